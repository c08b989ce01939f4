import { pathTo, problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** A system's audio band begins below where it ends; an FM stereo link's does where `link-limits` finds no fault. */
export const audioBand: Rule<Rig> = {
  name: 'audio-band',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, { link, audioLowHz, audioHighHz }]) =>
      link === 'fm-stereo' ||
      audioLowHz === undefined ||
      audioHighHz === undefined ||
      audioLowHz < audioHighHz
        ? []
        : [
            problem(
              audioBand.name,
              pathTo(pathTo('systems', id), 'audioLowHz'),
              `The audio band goes from ${audioLowHz} Hz to ${audioHighHz} Hz; audioLowHz must be below audioHighHz. Are they swapped?`,
            ),
          ],
    ),
};
