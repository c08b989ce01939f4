import { isLinkFrequency } from '../../../model/link-limits.js';
import { pathTo, problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/**
 * A pilot lies above the audio of its system, or no filter could keep the two apart. The usual one lies above all
 * audio there can be; what `link-limits` refuses is not told again.
 */
export const pilotAboveAudio: Rule<Rig> = {
  name: 'pilot-above-audio',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) => {
      if (system.link !== 'fm-stereo' || system.pilotHz === undefined) return [];
      const { pilotHz, audioHighHz } = system;
      if (!isLinkFrequency('pilotHz', pilotHz) || !isLinkFrequency('audioHighHz', audioHighHz)) return [];
      if (pilotHz > audioHighHz) return [];
      const message = `The pilot at ${pilotHz} Hz must lie above the audio, which goes up to ${audioHighHz} Hz (audioHighHz). Correct one of them.`;
      return [problem(pilotAboveAudio.name, pathTo(pathTo('systems', id), 'pilotHz'), message)];
    }),
};
