import { pathTo, problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** An encoder's low-pass is told by its frequency and its slope, and lets the audio through. */
export const encoderLowpass: Rule<Rig> = {
  name: 'encoder-lowpass',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) => {
      if (system.link !== 'fm-stereo') return [];
      const { encoderLowpassHz, encoderLowpassDbPerOctave, audioHighHz } = system;
      const path = pathTo('systems', id);
      if ((encoderLowpassHz === undefined) !== (encoderLowpassDbPerOctave === undefined)) {
        const [told, missing] =
          encoderLowpassHz === undefined
            ? ['encoderLowpassDbPerOctave', 'encoderLowpassHz']
            : ['encoderLowpassHz', 'encoderLowpassDbPerOctave'];
        const message = `${told} says nothing without ${missing}. Add it or, where it is not known, leave both out.`;
        return [problem(encoderLowpass.name, pathTo(path, told), message)];
      }
      if (encoderLowpassHz === undefined || encoderLowpassHz >= audioHighHz) return [];
      const message = `A low-pass at ${encoderLowpassHz} Hz would take away audio that goes up to ${audioHighHz} Hz (audioHighHz). Correct one of them.`;
      return [problem(encoderLowpass.name, pathTo(path, 'encoderLowpassHz'), message)];
    }),
};
