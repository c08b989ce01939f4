import { arrow, beyondMarks, cutTo, diamond, legendRowUnits, type Mark, markLegend } from './marks.js';
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

/** How far one of several lies off, to either side; null where it has nothing there. */
export interface OffsetsRow {
  readonly name: string;
  readonly belowCents: number | null;
  readonly atCents: number | null;
  readonly aboveCents: number | null;
  /** The nearest of the three, in words. */
  readonly nearest: string;
}

/** What an offsets figure shows: plain numbers and words. */
export interface OffsetsView {
  readonly title: string;
  readonly description: string;
  /** Where the pilot's window ends, below and above. */
  readonly windowCents: readonly [number, number];
  readonly rows: readonly OffsetsRow[];
  readonly words: Readonly<Record<'axis' | 'window' | 'below' | 'at' | 'above' | 'beyond', string>>;
}

const width = 360;
const side = 18;
const rowUnits = 2 * textUnits + 10;
/** A semitone to either side: beyond that a cut is none of the pilot's any more. */
const mostCents = 100;

const below = arrow('right');
const above = arrow('left');

const marksOf = (
  panel: Panel,
  y: number,
  { belowCents, atCents, aboveCents }: OffsetsRow,
): readonly Element[] => {
  const place = (cents: number | null, mark: Mark, out: Mark): readonly Element[] => {
    if (cents === null) return [];
    const isOutside = Math.abs(cents) > mostCents;
    return [(isOutside ? out : mark)([panel.x(Math.max(-mostCents, Math.min(mostCents, cents))), y])];
  };
  return [
    ...place(belowCents, below, beyondMarks.below),
    ...place(aboveCents, above, beyondMarks.above),
    ...place(atCents, diamond, diamond),
  ];
};

const row = (panel: Panel, top: number, each: OffsetsRow): readonly Child[] => {
  const y = top + textUnits + 11;
  const half = panel.width / 2;
  return [
    label(cutTo(each.name, half), [panel.left + 3, top + textUnits], {
      'font-weight': 700,
      ...fillIn('ink'),
    }),
    label(cutTo(each.nearest, half), [panel.left + panel.width - 3, top + textUnits], { anchor: 'end' }),
    straight([panel.left, y], [panel.left + panel.width, y], { 'stroke-width': 0.7, ...strokeIn('grid') }),
    ...marksOf(panel, y, each),
  ];
};

/** How far several grids lie from the pilot, a row each: below, on it and above, in cents. */
export const offsetsFigure = (view: OffsetsView): Element => {
  const { rows, words, windowCents } = view;
  const top = textUnits + 8;
  const panel = makePanel(
    { left: side, top, width: width - 2 * side, height: rows.length * rowUnits + 8 },
    { x: [-mostCents, mostCents], y: [0, 1], xIs: 'linear' },
  );
  const [from, to] = windowCents.map(panel.x) as [number, number];
  const block: Mark = ([x, y]) =>
    element('rect', { x: units(x - 12), y: units(y - 5), width: 24, height: 10, ...fillIn('pilot') });
  const hasBeyond = rows.some((each) =>
    [each.belowCents, each.aboveCents].some((cents) => cents !== null && Math.abs(cents) > mostCents),
  );
  const legend = [
    { mark: below, text: words.below },
    { mark: diamond, text: words.at },
    { mark: above, text: words.above },
    ...(hasBeyond ? [{ mark: beyondMarks.above, text: words.beyond }] : []),
    { mark: block, text: words.window },
  ];
  const legendTop = panel.top + panel.height + 2 * textUnits + 12;
  const signed = (cents: number): string => `${cents > 0 ? '+' : ''}${cents}`;
  const none = { values: [], labelled: [], text: String };
  return picture(
    view,
    [width, legendTop + legend.length * legendRowUnits],
    [
      label(words.axis, [side, textUnits]),
      // A window may be wider than what is shown.
      within(panel, [
        element('rect', {
          x: units(from),
          y: top,
          width: units(to - from),
          height: panel.height,
          ...fillIn('pilot'),
        }),
      ]),
      straight([panel.x(0), top], [panel.x(0), top + panel.height], {
        'stroke-width': 1.2,
        ...strokeIn('pilotEdge'),
      }),
      ...axes(panel, roundTicks([-mostCents, mostCents], 5, signed), none),
      ...rows.flatMap((each, index) => row(panel, top + 3 + index * rowUnits, each)),
      edge(panel),
      ...markLegend([side - 6, legendTop], legend),
    ],
  );
};
