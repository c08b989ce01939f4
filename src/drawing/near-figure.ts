import { wrap } from '../layout/wrap.js';
import {
  arrow,
  beyondMarks,
  cutTo,
  diamond,
  dot,
  legendRowUnits,
  type Mark,
  markLegend,
  square,
} from './marks.js';
import { type Child, type Element, element } from './markup.js';
import { fillIn, strokeIn } from './palette.js';
import {
  axes,
  edge,
  label,
  makePanel,
  type Panel,
  picture,
  roundTicks,
  straight,
  textUnits,
  units,
  within,
} from './panel.js';

/** A frequency that a desk can take next to the pilot. */
export interface NearPlace {
  readonly side: 'below' | 'at' | 'above';
  readonly offsetHz: number;
  /** What it is called, with how far it lies off. */
  readonly text: string;
}

/** What one way of building makes of two settings: figures to draw, and as they are told. */
export interface NearWay {
  readonly name: string;
  readonly takenDb: readonly (number | null)[];
  readonly text: string;
}

/** What a near figure shows: plain numbers and words. */
export interface NearView {
  readonly title: string;
  readonly description: string;
  readonly windowHz: number;
  /** The frequencies next to the pilot, and how far off all are that lie close. */
  readonly next: readonly NearPlace[];
  /** None where they lie too close together to be told apart: then all of the axis is theirs. */
  readonly offsetsHz: readonly number[] | null;
  /** How far from the pilot is shown, to either side. */
  readonly reachHz: number;
  readonly ways: readonly NearWay[];
  /** What two settings take there is not shown beyond this. */
  readonly deepestDb: number;
  readonly words: Readonly<Record<'axis' | 'window' | 'others' | 'taken', string>>;
  /** What the settings are called, the first drawn as a dot, the second as a square. */
  readonly settings: readonly string[];
}

const width = 360;
const side = 12;
const stripUnits = 44;
/** As many bold letters as have room in a row. */
const takenColumns = 40;

const markOf: Readonly<Record<NearPlace['side'], Mark>> = {
  below: arrow('right'),
  at: diamond,
  above: arrow('left'),
};

/** Hertz with their sign: what lies above the pilot has a plus. */
const signed = (offsetHz: number): string => `${offsetHz > 0 ? '+' : ''}${offsetHz}`;

/** Where the desk can stand, along an axis that has the pilot in its middle. */
const strip = (panel: Panel, { windowHz, next, offsetsHz }: NearView): readonly Child[] => {
  const { x, top, height } = panel;
  const [from, to] = [x(-windowHz), x(windowHz)];
  const middle = top + height / 2;
  return [
    element('rect', { x: units(from), y: top, width: units(to - from), height, ...fillIn('pilot') }),
    straight([x(0), top], [x(0), top + height], { 'stroke-width': 1.2, ...strokeIn('pilotEdge') }),
    offsetsHz === null
      ? element('rect', {
          x: panel.left,
          y: units(middle - 3),
          width: panel.width,
          height: 6,
          ...fillIn('quiet'),
        })
      : element('path', {
          d: offsetsHz.map((offsetHz) => `M${units(x(offsetHz))},${units(middle - 8)}v16`).join(''),
          fill: 'none',
          'stroke-width': 1.4,
          ...strokeIn('quiet'),
        }),
    ...next.map((each) => markOf[each.side]([x(each.offsetHz), middle])),
  ];
};

/** A mark where a figure lies; at the end of the axis an arrow outwards where it lies beyondMarks. */
const wayMark = ({ x, left, width: across }: Panel, takenDb: number, mark: Mark, y: number): Element => {
  const [from = 0, to = 0] = x.domain();
  if (takenDb > to) return beyondMarks.above([left + across, y]);
  if (takenDb < from) return beyondMarks.below([left, y]);
  return mark([x(takenDb), y]);
};

const wayUnits = 2 * textUnits + 9;

/** A row for a way of building: its name and figures, and under them where both lie. */
const wayRow = (panel: Panel, top: number, { name, takenDb, text }: NearWay): readonly Element[] => {
  const y = top + textUnits + 9;
  const [from, to] = [panel.left, panel.left + panel.width];
  const known = takenDb.flatMap((each) =>
    each === null ? [] : [Math.min(to, Math.max(from, panel.x(each)))],
  );
  return [
    label(cutTo(name, 0.55 * panel.width), [panel.left, top + textUnits], fillIn('ink')),
    label(text, [panel.left + panel.width, top + textUnits], { anchor: 'end' }),
    straight([from, y], [to, y], { 'stroke-width': 0.7, ...strokeIn('grid') }),
    ...(known.length > 1
      ? [
          straight([Math.min(...known), y], [Math.max(...known), y], {
            'stroke-width': 1.4,
            ...strokeIn('range'),
          }),
        ]
      : []),
    // The dot last: where both take the same it lies in the square.
    ...takenDb
      .flatMap((each, index) => (each === null ? [] : [wayMark(panel, each, index === 0 ? dot : square, y)]))
      .reverse(),
  ];
};

const waysPart = (
  top: number,
  { ways, words, settings, deepestDb }: NearView,
): readonly [readonly Element[], number] => {
  if (ways.length === 0) return [[], top];
  const most = Math.max(1, ...ways.flatMap(({ takenDb }) => takenDb.map((each) => each ?? 0)));
  const heads = wrap(words.taken, takenColumns);
  const headEnd = top + heads.length * (textUnits + 2);
  const marks = [dot, square];
  const told = settings.map((text, index) => ({ mark: marks[index] ?? dot, text }));
  const rows =
    most > deepestDb ? [...told, { mark: beyondMarks.above, text: `more than ${deepestDb} dB` }] : told;
  const from = headEnd + textUnits + 4 + legendRowUnits * rows.length;
  const height = ways.length * wayUnits;
  const least = Math.min(0, ...ways.flatMap(({ takenDb }) => takenDb.map((each) => each ?? 0)));
  const panel = makePanel(
    { left: side, top: from, width: width - 2 * side, height },
    { x: [least, Math.min(deepestDb, 1.04 * most)], y: [0, 1], xIs: 'linear' },
  );
  return [
    [
      ...heads.map((text, index) =>
        label(text, [side, top + index * (textUnits + 2) + textUnits], {
          'font-weight': 700,
          ...fillIn('ink'),
        }),
      ),
      ...markLegend([side - 6, headEnd + 12], rows),
      ...ways.flatMap((way, index) => wayRow(panel, from + index * wayUnits, way)),
    ],
    from + height,
  ];
};

/** How near a desk's frequencies come to the pilot, and what two settings take there, a row for each way of building. */
export const nearFigure = (view: NearView): Element => {
  const { reachHz, next, words, offsetsHz } = view;
  const panel = makePanel(
    { left: side, top: textUnits + 8, width: width - 2 * side, height: stripUnits },
    { x: [-reachHz, reachHz], y: [0, 1], xIs: 'linear' },
  );
  const legendTop = panel.top + stripUnits + 2 * textUnits + 12;
  const lineOf: Mark = ([x, y]) =>
    straight([x, y - 6], [x, y + 6], { 'stroke-width': 1.4, ...strokeIn('quiet') });
  const block: Mark = ([x, y]) =>
    element('rect', { x: units(x - 12), y: units(y - 5), width: 24, height: 10, ...fillIn('pilot') });
  const rows = [
    ...next.map((each) => ({ mark: markOf[each.side], text: each.text })),
    ...(offsetsHz === null || offsetsHz.length > next.length ? [{ mark: lineOf, text: words.others }] : []),
    { mark: block, text: words.window },
  ];
  const waysTop = legendTop + rows.length * legendRowUnits + 8;
  const [ways, end] = waysPart(waysTop, view);
  const across = roundTicks([-reachHz, reachHz], 6, signed);
  return picture(
    view,
    [width, end + 2],
    [
      label(words.axis, [side, textUnits]),
      ...axes(panel, across, { values: [], labelled: [], text: String }),
      within(panel, strip(panel, view)),
      edge(panel),
      ...markLegend([side - 6, legendTop], rows),
      ...ways,
    ],
  );
};
