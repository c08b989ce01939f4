import { pathTo } from '../../../model/path.js';
import { problem } from '../../../model/problem.js';
import { usualPilotHz } from '../../../model/protection.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** A pilot lies above the audio of its system, or no filter could keep the two apart. */
export const pilotAboveAudio: Rule<Rig> = {
  name: 'pilot-above-audio',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) => {
      if (system.link !== 'fm-stereo') return [];
      const pilotHz = system.pilotHz ?? usualPilotHz;
      if (pilotHz > system.audioHighHz) return [];
      const key = system.pilotHz === undefined ? 'audioHighHz' : 'pilotHz';
      const pilot = `${pilotHz} Hz${system.pilotHz === undefined ? ', taken since pilotHz is not given,' : ''}`;
      const message = `The pilot at ${pilot} must lie above the audio, which goes up to ${system.audioHighHz} Hz (audioHighHz). Correct one of them.`;
      return [problem(pilotAboveAudio.name, pathTo(pathTo('systems', id), key), message)];
    }),
};
