import type { NearFrequency, PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { PilotSetting } from '../../analysis/reach/pilot-setting.js';
import { placedFilter } from '../../fitting/placement.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { tableLines } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { hang, wrap } from '../../layout/wrap.js';
import { filterPhrase } from '../../model/words.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';
import { lossLimit, offsetNumbers, oneCase, surerByDb, worstCase } from './reach-words.js';

/** A target, what it was called on the command line, and how near it comes. */
export interface CheckedTarget {
  readonly name: string;
  readonly id: string;
  readonly title: string;
  readonly reach: PilotReach;
}

const nearRow = (word: string, near: NearFrequency | null): readonly string[] => {
  if (!near) return [`  ${word}`, 'none', '', '', ''];
  const [hertz, cents, perCent] = offsetNumbers(near);
  return [
    `  ${word}`,
    `${(near.frequencyHz / 1000).toFixed(3)} kHz`,
    `${hertz} Hz`,
    `${cents} cents`,
    `${perCent} %`,
  ];
};

/** The frequencies next to the pilot: side by side, or where that is too wide each in words. */
const nearLines = ({ below, at, above }: PilotReach, columns: number): readonly string[] => {
  const rows = [nearRow('below', below), ...(at ? [nearRow('on it', at)] : []), nearRow('above', above)];
  const table = tableLines(rows, [1, 2, 3, 4]);
  return Math.max(...table.map(displayWidth)) <= columns
    ? table
    : rows.flatMap(([word = '', ...told]) =>
        hang(`${word}  `, told.filter((text) => text !== '').join(', '), columns),
      );
};

/** A setting, what people call it here, and what it costs the music. */
const settingRow = (word: string, setting: PilotSetting | null): readonly string[] =>
  setting
    ? [
        `  ${word}`,
        filterPhrase(placedFilter(setting.type, setting.set)),
        `${Math.max(0, setting.keepLossDb).toFixed(1)} dB of the music`,
      ]
    : [`  ${word}`, 'none', ''];

/** What each setting takes, a row for every way of building, and its worst and its best. */
const takenRows = ({ best, narrowest }: PilotReach): readonly (readonly string[])[] => {
  const settings = [best, narrowest];
  const cells = (taken: (setting: PilotSetting) => string): readonly string[] =>
    settings.map((setting) => (setting ? taken(setting) : ''));
  const ways = (best ?? narrowest)?.byRealisation ?? [];
  return [
    ...ways.map(({ id }, way) => [
      `  ${id}`,
      ...cells((setting) => oneCase(setting.byRealisation[way]?.pilotAttenuationDb ?? 0, setting)),
    ]),
    ['  least', ...cells(({ leastDb }) => worstCase(leastDb))],
    ['  most', ...cells((setting) => oneCase(setting.mostDb, setting))],
  ];
};

/** What a narrow cut does, with the figures, where it does so much less that it is worth saying. */
const warning = ({ nearest, best, narrowest }: PilotReach): string | null => {
  if (!nearest || !best || !narrowest || surerByDb(best, narrowest) < 1) return null;
  const how =
    nearest.offsetHz === 0
      ? 'A very narrow cut does little at the edges of the window'
      : 'A very narrow cut that misses the pilot does little';
  return `${how}: the narrowest setting is sure of ${worstCase(narrowest.leastDb)} dB there, the best one of ${worstCase(best.leastDb)} dB. Widen it, or move other filters too.`;
};

/** One target's nearness to the pilot, for people. */
export const reachLines = (
  { id, title, reach }: CheckedTarget,
  scope: GuardScope,
  columns: number,
): readonly string[] => {
  const head = [...wrap(`${id}: ${title}`, columns), ''];
  const pilot = formatFrequency(reach.pilotHz);
  if (!reach.nearest) {
    const told = `It has neither bell nor notch near ${pilot}: nothing of it can be set on the pilot.`;
    return [...head, ...wrap(told, columns)];
  }
  const told = warning(reach);
  return [
    ...head,
    ...wrap(`Frequencies its bells and notches can take next to the pilot, ${pilot}:`, columns),
    ...nearLines(reach, columns),
    '',
    ...wrap(
      `Two settings of one of them. The best takes most at the pilot in the worst way of building, and costs ${lossLimit(scope)}: here ${formatDecibels(reach.keepLossAtMostDb)}. The narrowest is at the nearest frequency, all the way down.`,
      columns,
    ),
    ...tableLines([settingRow('best', reach.best), settingRow('narrowest', reach.narrowest)], [], columns),
    '',
    ...wrap(
      `What each takes at the pilot, ${pilot} +-${reach.windowHz} Hz, its knobs left where they stand, by the way the desk builds its filters:`,
      columns,
    ),
    ...tableLines([['  built as', 'best dB', 'narrowest dB'], ...takenRows(reach)], [1, 2], columns),
    ...(told ? ['', ...wrap(told, columns)] : []),
  ];
};
