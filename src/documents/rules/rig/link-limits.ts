import { isLinkFrequency, type LinkFrequency, linkFrequencyFault } from '../../../model/link-limits.js';
import { type Problem, pathTo, problem } from '../../../model/problem.js';
import type { FmStereoSystem, Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

const keys: readonly LinkFrequency[] = ['audioLowHz', 'audioHighHz', 'pilotHz'];

/** Whether either limit of the audio would do in the other's place. */
const isSwapped = ({ audioLowHz, audioHighHz }: FmStereoSystem): boolean =>
  isLinkFrequency('audioLowHz', audioHighHz) && isLinkFrequency('audioHighHz', audioLowHz);

const frequencyProblem = (system: FmStereoSystem, key: LinkFrequency, path: string): readonly Problem[] => {
  const frequencyHz = system[key];
  const fault = frequencyHz === undefined ? null : linkFrequencyFault(key, frequencyHz);
  return fault === null ? [] : [problem(linkLimits.name, pathTo(path, key), fault)];
};

const systemProblems = (system: FmStereoSystem, path: string): readonly Problem[] => {
  if (!isSwapped(system)) return keys.flatMap((key) => frequencyProblem(system, key, path));
  const { audioLowHz: highHz, audioHighHz: lowHz } = system;
  const message = `The audio cannot begin at ${highHz} Hz and end at ${lowHz} Hz: the two are swapped. Write ${lowHz} for audioLowHz and ${highHz} for audioHighHz.`;
  return [
    problem(linkLimits.name, pathTo(path, 'audioLowHz'), message),
    ...frequencyProblem(system, 'pilotHz', path),
  ];
};

/** Audio limits and pilot are such as an FM stereo link can have. */
export const linkLimits: Rule<Rig> = {
  name: 'link-limits',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) =>
      system.link === 'fm-stereo' ? systemProblems(system, pathTo('systems', id)) : [],
    ),
};
