import type { PilotCut, PilotReach } from '../../fitting/pilot-reach.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { formatFrequency } from '../../units/format.js';
import { tableLines } from '../table.js';
import { wrap } from '../wrap.js';
import { offsetCells } from './reach-lines.js';
import type { CheckedTarget } from './run-check.js';

/** The least and the most over the ways of building: `5.4-12.1 dB`. */
const range = (cuts: readonly (PilotCut | null)[]): string => {
  const taken = cuts.flatMap((cut) => (cut ? [cut.attenuationDb] : []));
  if (taken.length === 0) return 'none';
  const [least, most] = [Math.min(...taken).toFixed(1), Math.max(...taken).toFixed(1)];
  return least === most ? `${least} dB` : `${least}-${most} dB`;
};

const row = (id: string, { below, at, above, nearest, byRealisation }: PilotReach): readonly string[] => [
  id,
  below ? formatFrequency(below.frequencyHz) : 'none',
  above ? formatFrequency(above.frequencyHz) : 'none',
  ...(at ? ['on it', '', ''] : nearest ? offsetCells(nearest) : ['none', '', '']),
  range(byRealisation.map(({ best }) => best)),
  range(byRealisation.map(({ narrowest }) => narrowest)),
];

/** Every target's nearness to the pilot, a line each. */
export const reachTable = (checked: readonly CheckedTarget[], scope: GuardScope): readonly string[] => [
  ...tableLines(
    [
      ['target', 'below', 'above', 'nearest', '', '', 'best takes', 'narrowest'],
      ...checked.map(({ target, reach }) => row(target.id, reach)),
    ],
    [1, 2, 3, 4, 5, 6, 7],
  ),
  '',
  ...wrap(
    `Pilot ${formatFrequency(scope.pilotHz)}. "Best takes" is what the best bell or notch takes out at the pilot itself while the music loses at most ${scope.keepLossAtMostDb} dB up to ${formatFrequency(scope.keepHighHz)}; "narrowest" what the narrowest one does at the nearest frequency; ranges are over the ways a desk may build its filters.`,
    80,
  ),
];
