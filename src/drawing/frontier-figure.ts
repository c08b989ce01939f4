import { diamond, dot, legendRowUnits, lineMark, type Mark, markLegend, square } from './marks.js';
import { type Element, element } from './markup.js';
import { strokeIn } from './palette.js';
import { axes, edge, label, makePanel, picture, roundTicks, straight, textUnits, units } from './panel.js';

/** What is lost of the music, and what is taken at the pilot for it. */
export interface FrontierPlace {
  readonly lostDb: number;
  readonly pilotDb: number;
}

/** What a frontier figure shows: plain numbers and words. */
export interface FrontierView {
  readonly title: string;
  readonly description: string;
  /** What is along the two axes. */
  readonly axisWords: { readonly lost: string; readonly pilot: string };
  /** The best there is, the least loss first. */
  readonly points: readonly FrontierPlace[];
  readonly nearest: FrontierPlace;
  readonly askedDb: number;
  /** What reaches it for the least loss; null where nothing does. */
  readonly reached: FrontierPlace | null;
  /** What each mark means; `asked` also stands at its line. */
  readonly words: Readonly<Record<'best' | 'nearest' | 'asked' | 'reached', string>>;
}

const width = 360;
const left = 30;
const right = 14;
const height = 220;

const askedStroke = { 'stroke-width': 1.6, 'stroke-dasharray': '6 3', ...strokeIn('pilotEdge') };
const stepStroke = { 'stroke-width': 1.6, ...strokeIn('set') };

/** From below to above what is shown, with some room over it. */
const span = (values: readonly number[]): readonly [number, number] => [
  Math.min(0, ...values),
  Math.max(1, ...values) * 1.08,
];

/** What a limit buys holds until the next one buys more: each step goes on at its height, then up. */
const steppedPath = (points: readonly (readonly [number, number])[]): string =>
  points
    .map(([x, y], index) => (index === 0 ? `M${units(x)},${units(y)}` : `H${units(x)}V${units(y)}`))
    .join('');

/** Attenuation at the pilot against music lost: what the best steps buy, what nearest gives, and what is asked. */
export const frontierFigure = (view: FrontierView): Element => {
  const { points, nearest, reached, askedDb, words, axisWords } = view;
  const shown = [...points, nearest, ...(reached ? [reached] : [])];
  const top = textUnits + 10;
  const across = span(shown.map(({ lostDb }) => lostDb));
  const up = span([...shown.map(({ pilotDb }) => pilotDb), askedDb]);
  const place = { left, top, width: width - left - right, height };
  const panel = makePanel(place, { x: across, y: up, xIs: 'linear' });
  const at = ({ lostDb, pilotDb }: FrontierPlace) => [panel.x(lostDb), panel.y(pilotDb)] as const;
  const askedAt = panel.y(askedDb);
  const bought = [...points, ...(reached ? [reached] : [])]
    .sort((a, b) => a.lostDb - b.lostDb || a.pilotDb - b.pilotDb)
    .filter(({ pilotDb }, index, all) => all.slice(0, index).every((before) => before.pilotDb <= pilotDb));
  const last = bought.at(-1);
  const steps = [...bought.map(at), ...(last ? [[left + place.width, panel.y(last.pilotDb)] as const] : [])];
  const drop = reached
    ? [
        straight(at(reached), [panel.x(reached.lostDb), top + height], {
          'stroke-width': 1,
          ...strokeIn('keep'),
        }),
      ]
    : [];
  const rows: readonly { readonly mark: Mark; readonly text: string }[] = [
    ...(points.length > 0 ? [{ mark: dot, text: words.best }] : []),
    { mark: square, text: words.nearest },
    { mark: lineMark(askedStroke), text: words.asked },
    ...(reached ? [{ mark: diamond, text: words.reached }] : []),
  ];
  const below = top + height + textUnits + 4;
  const legendTop = below + textUnits + 18;
  return picture(
    view,
    [width, legendTop + rows.length * legendRowUnits],
    [
      label(axisWords.pilot, [left, textUnits + 2]),
      ...axes(panel, roundTicks(across, 7), roundTicks(up, 6)),
      straight([left, askedAt], [left + place.width, askedAt], askedStroke),
      element('path', { d: steppedPath(steps), fill: 'none', ...stepStroke }),
      ...drop,
      edge(panel),
      ...points.map((point) => dot(at(point))),
      ...(reached ? [diamond(at(reached))] : []),
      square(at(nearest)),
      label(axisWords.lost, [width - right, below + textUnits + 2], { anchor: 'end' }),
      ...markLegend([left, legendTop], rows),
    ],
  );
};
