import type { NearFrequency, PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { tableLines } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import { formatFrequency } from '../../units/format.js';
import { deskName } from '../words/target-list.js';
import type { CheckedTarget } from './reach.js';
import { leastToMost, lossLimit, offsetNumbers } from './reach-words.js';

const kilohertz = (near: NearFrequency | null): string =>
  near ? (near.frequencyHz / 1000).toFixed(3) : 'none';

const row = (name: string, { below, at, above, nearest, best }: PilotReach): readonly string[] => [
  name,
  kilohertz(below),
  kilohertz(above),
  ...(at ? ['on it', '', ''] : nearest ? offsetNumbers(nearest) : ['none', '', '']),
  best ? leastToMost(best) : 'none',
  best ? Math.max(0, best.keepLossDb).toFixed(1) : '',
];

/** Every target's nearness to the pilot, a line each, in the order they were named: no ranking. */
export const reachTable = (checked: readonly CheckedTarget[], scope: GuardScope): readonly string[] => [
  ...tableLines(
    [
      ['', 'below', 'above', 'nearest', '', '', 'one setting', 'music'],
      ['target', 'kHz', 'kHz', 'Hz off', 'cents', '%', 'takes, dB', 'dB'],
      ...checked.map((each) => row(deskName(each, checked), each.reach)),
    ],
    [1, 2, 3, 4, 5, 6, 7],
  ),
  '',
  ...wrap(
    `Pilot ${formatFrequency(scope.pilotHz)} +-${scope.windowHz} Hz; frequencies are those its bells and notches can take next to it. "One setting": one bell or notch there, its knobs left where they stand, and what it takes at the pilot at least and at most over the ways the desk may build its filters. It is the setting that takes most in the worst of them and costs ${lossLimit(scope)}; "music" is what it costs at most.`,
    80,
  ),
  ...wrap(
    'This tells grids apart, not desks: a recipe sets several filters together. Which desk serves a rig: bandwright compare RIG. A desk by way of building: bandwright check --target ID.',
    80,
  ),
];
