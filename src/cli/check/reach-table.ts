import type { NearFrequency, PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { wrap } from '../../layout/wrap.js';
import { formatFrequency } from '../../units/format.js';
import { deskName } from '../words/load-desk.js';
import { type Row, rowLines } from '../words/rows.js';
import type { CheckedTarget } from './check.js';
import { leastToMost, lossLimit, offsetNumbers } from './reach-words.js';

const kilohertz = (near: NearFrequency | null): string =>
  near ? (near.frequencyHz / 1000).toFixed(3) : 'none';

const shown = (name: string, { below, at, above, nearest, best }: PilotReach): Row => {
  const [hertz = '', cents = '', perCent = ''] = at ? ['on it'] : nearest ? offsetNumbers(nearest) : ['none'];
  const takes = best ? leastToMost(best) : 'none';
  const music = best ? Math.max(0, best.keepLossDb).toFixed(1) : '';
  return {
    cells: [name, kilohertz(below), kilohertz(above), hertz, cents, perCent, takes, music],
    words: [
      `${name}: below ${kilohertz(below)}, above ${kilohertz(above)} kHz`,
      cents === '' ? `nearest ${hertz}` : `nearest ${hertz} Hz off, ${cents} cents, ${perCent} %`,
      best ? `one setting takes ${takes} dB, music lost ${music} dB` : 'no setting takes anything',
    ].join('; '),
  };
};

const heads: readonly Row[] = [
  { cells: ['', 'below', 'above', 'nearest', '', '', 'one setting', 'music'], words: '' },
  { cells: ['target', 'kHz', 'kHz', 'Hz off', 'cents', '%', 'takes, dB', 'dB'], words: '' },
];

/** Every target's nearness to the pilot, a line each, in the order they were named: no ranking. */
export const reachTable = (
  checked: readonly CheckedTarget[],
  scope: GuardScope,
  columns: number,
): readonly string[] => [
  ...rowLines(
    [...heads, ...checked.map((each) => shown(deskName(each, checked), each.reach))],
    [1, 2, 3, 4, 5, 6, 7],
    columns,
  ),
  '',
  ...wrap(
    `Pilot ${formatFrequency(scope.pilotHz)} +-${scope.windowHz} Hz; frequencies are those its bells and notches can take next to it. "One setting": one bell or notch there, its knobs left where they stand, and what it takes at the pilot at least and at most over the ways the desk may build its filters. It is the setting that takes most in the worst of them and costs ${lossLimit(scope)}; "music" is what it costs at most.`,
    columns,
  ),
  ...wrap(
    'This tells grids apart, not desks: a recipe sets several filters together. Which desk serves a rig: bandwright compare RIG. A desk by way of building: bandwright check --target ID.',
    columns,
  ),
];
