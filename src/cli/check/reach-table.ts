import type { NearFrequency, PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { tableLines } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { wrap } from '../../layout/wrap.js';
import { formatFrequency } from '../../units/format.js';
import { deskName } from '../words/load-desk.js';
import type { CheckedTarget } from './reach-lines.js';
import { leastToMost, lossLimit, offsetNumbers } from './reach-words.js';

const kilohertz = (near: NearFrequency | null): string =>
  near ? (near.frequencyHz / 1000).toFixed(3) : 'none';

const heads = [
  ['', 'below', 'above', 'nearest', '', '', 'one setting', 'music'],
  ['target', 'kHz', 'kHz', 'Hz off', 'cents', '%', 'takes, dB', 'dB'],
];

const offsetsOf = ({ at, nearest }: PilotReach): readonly string[] => {
  if (at) return ['on it'];
  return nearest ? offsetNumbers(nearest) : ['none'];
};

const row = (name: string, reach: PilotReach): readonly string[] => {
  const { below, above, best } = reach;
  const [hertz = '', cents = '', perCent = ''] = offsetsOf(reach);
  return [
    name,
    kilohertz(below),
    kilohertz(above),
    hertz,
    cents,
    perCent,
    best ? leastToMost(best) : 'none',
    best ? Math.max(0, best.keepLossDb).toFixed(1) : '',
  ];
};

/** What there is to say of a target, each with its name. */
export const reachPairs = (reach: PilotReach): readonly (readonly [what: string, told: string])[] => {
  const [, , , hertz, cents, perCent, takes, music] = row('', reach);
  const side = (near: NearFrequency | null): string => (near ? `${kilohertz(near)} kHz` : 'none');
  return [
    ['below', side(reach.below)],
    ['above', side(reach.above)],
    ['nearest', cents === '' ? `${hertz}` : `${hertz} Hz off, ${cents} cents, ${perCent} %`],
    ['one setting', reach.best ? `takes ${takes} dB, music lost ${music} dB` : 'none'],
  ];
};

/** The same in words, for a window with no room for the columns. */
const sentence = (name: string, reach: PilotReach): string => {
  const [below, above, nearest, setting] = reachPairs(reach).map((pair) => pair.join(' '));
  return `${name}: ${below}, ${above}; ${nearest}; ${setting}`;
};

/** A line a target; in words where the columns would not fit. */
const rowsOf = (checked: readonly CheckedTarget[], columns: number): readonly string[] => {
  const named = checked.map((each) => [deskName(each, checked), each.reach] as const);
  const table = tableLines(
    [...heads, ...named.map(([name, reach]) => row(name, reach))],
    [1, 2, 3, 4, 5, 6, 7],
  );
  return Math.max(...table.map(displayWidth)) <= columns
    ? table
    : named.flatMap(([name, reach]) => wrap(sentence(name, reach), columns, '  '));
};

const compareCommand = 'bandwright compare RIG';
const checkCommand = 'bandwright check --target ID';

/** How the figures are to be read, and where to look further. */
export const reachNotes = (scope: GuardScope): readonly string[] => [
  `Pilot ${formatFrequency(scope.pilotHz)} +-${scope.windowHz} Hz; frequencies are those its bells and notches can take next to it. "One setting": one bell or notch there, its knobs left where they stand, and what it takes at the pilot at least and at most over the ways the desk may build its filters. It is the setting that takes most in the worst of them and costs ${lossLimit(scope)}; "music" is what it costs at most.`,
  `This tells grids apart, not desks: a recipe sets several filters together. Which desk serves a rig: ${compareCommand}. A desk by way of building: ${checkCommand}.`,
];

/** Every target's nearness to the pilot, a line each, in the order they were named: no ranking. */
export const reachTable = (
  checked: readonly CheckedTarget[],
  scope: GuardScope,
  columns: number,
): readonly string[] => [
  ...rowsOf(checked, columns),
  '',
  ...reachNotes(scope).flatMap((note) => wrap(note, columns, '', [compareCommand, checkCommand])),
];
