import type { NearFrequency, PilotCut, PilotReach } from '../../fitting/reach/pilot-reach.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { formatFrequency } from '../../units/format.js';
import { tableLines } from '../table.js';
import { wrap } from '../wrap.js';
import { decibels, offsetNumbers } from './reach-words.js';
import type { CheckedTarget } from './run-reach.js';

/** The least and the most over the ways of building: `5.4 to 12.1`. */
const range = (cuts: readonly (PilotCut | null)[]): string => {
  const taken = cuts.flatMap((cut) => (cut ? [cut.attenuationDb] : []));
  if (taken.length === 0) return 'none';
  const [least, most] = [decibels(Math.min(...taken)), decibels(Math.max(...taken))];
  return least === most ? least : `${least} to ${most}`;
};

const kilohertz = (near: NearFrequency | null): string =>
  near ? (near.frequencyHz / 1000).toFixed(3) : 'none';

const row = (id: string, { below, at, above, nearest, byRealisation }: PilotReach): readonly string[] => [
  id,
  kilohertz(below),
  kilohertz(above),
  ...(at ? ['on it', '', ''] : nearest ? offsetNumbers(nearest) : ['none', '', '']),
  range(byRealisation.map(({ best }) => best)),
  range(byRealisation.map(({ narrowest }) => narrowest)),
];

/** Every target's nearness to the pilot, a line each. */
export const reachTable = (checked: readonly CheckedTarget[], scope: GuardScope): readonly string[] => [
  ...tableLines(
    [
      ['', 'below', 'above', 'nearest', '', '', 'best takes', 'narrowest'],
      ['target', 'kHz', 'kHz', 'Hz off', 'cents', '%', 'dB', 'dB'],
      ...checked.map(({ target, reach }) => row(target.id, reach)),
    ],
    [1, 2, 3, 4, 5, 6, 7],
  ),
  '',
  ...wrap(
    `Pilot ${formatFrequency(scope.pilotHz)}; frequencies are those its bells and notches can take next to it. "Best takes": what the best of them takes out at the pilot itself while the music loses at most ${scope.keepLossAtMostDb} dB up to ${formatFrequency(scope.keepHighHz)}. "Narrowest": what the narrowest does at the nearest frequency. Ranges are over the ways a desk may build its filters. A desk's own line: bandwright check --target ID.`,
    80,
  ),
];
