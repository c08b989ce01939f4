import { type Attributes, type Child, type Element, element } from './markup.js';
import { fillIn, strokeIn } from './palette.js';
import {
  type AxisTicks,
  axes,
  decadeTicks,
  edge,
  kilohertzTicks,
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
import { areaPath, linePath, type Spot } from './paths.js';
import { responseLegend, responseStrokes, setMark } from './response-legend.js';
import {
  belowText,
  closeHz,
  type Levels,
  type ResponseView,
  type StretchHz,
  spanDb,
  wholeHz,
} from './response-view.js';

const width = 360;
const left = 30;
const right = 12;
const plotWidth = width - left - right;

const placesOf = ({ x, y, top, height }: Panel, { frequenciesHz }: ResponseView, levels: Levels): Spot[] =>
  Array.from(frequenciesHz, (frequencyHz, index): Spot => {
    // Outside a panel nothing is seen, and places there would only cost bytes.
    const at = y(levels[index] ?? Number.NaN);
    return [x(frequencyHz), Math.min(top + height + 3, Math.max(top - 3, at))];
  }).filter(([across]) => across >= left - 1 && across <= left + plotWidth + 1);

const curves = (panel: Panel, view: ResponseView): readonly Element[] => {
  const { set, asked, byHand } = view;
  const path = (levels: Levels, attributes: Attributes) =>
    element('path', { d: linePath(placesOf(panel, view, levels)), ...attributes });
  const range = areaPath(placesOf(panel, view, set.highestDb), placesOf(panel, view, set.lowestDb));
  return [
    element('path', { d: range, ...fillIn('range') }),
    element(
      'g',
      { fill: 'none', 'stroke-linejoin': 'round' },
      path(asked, responseStrokes.asked),
      ...(byHand ? [path(byHand, responseStrokes.hand)] : []),
      path(set.levelsDb, responseStrokes.set),
    ),
  ];
};

/** What is the same in many pictures stands together: a page tells that once. */
const together = (children: readonly Element[]): readonly Element[] =>
  children.length === 0 ? [] : [element('g', {}, children)];

/** The pilot's window as a block behind the curves. */
const pilotBlock = ({ x, top, height }: Panel, { guard }: ResponseView): readonly Element[] => {
  if (!guard) return [];
  const [from, to] = [x(guard.pilotHz - guard.windowHz), x(guard.pilotHz + guard.windowHz)];
  const at = units(from);
  return [
    element('rect', { x: at, y: top, width: units(to - from), height, ...fillIn('pilot') }),
    element('path', {
      d: `M${at},${top}v${height}M${units(to)},${top}v${height}`,
      fill: 'none',
      'stroke-width': 0.8,
      ...strokeIn('pilotEdge'),
    }),
  ];
};

/** What is held: the music's limit, what is to be taken at the pilot, where the link ends. */
const limits = (panel: Panel, { guard }: ResponseView): readonly Element[] => {
  if (!guard) return [];
  const { x, y, top, height } = panel;
  const [keepFrom, keepTo] = [guard.keepLowHz, guard.keepHighHz].map((frequencyHz) =>
    Math.max(panel.left, x(frequencyHz)),
  ) as [number, number];
  const lossAt = y(-guard.keepLossAtMostDb);
  const pilotAt = y(-guard.attenuationAtLeastDb);
  const pilotFrom = x(guard.pilotHz - guard.windowHz) - 5;
  const pilotTo = x(guard.pilotHz + guard.windowHz) + 5;
  return [
    ...(keepTo > keepFrom ? [straight([keepFrom, lossAt], [keepTo, lossAt], responseStrokes.keep)] : []),
    straight([pilotFrom, pilotAt], [pilotTo, pilotAt], responseStrokes.wanted),
    ...(guard.linkEndsHz === null
      ? []
      : [straight([x(guard.linkEndsHz), top], [x(guard.linkEndsHz), top + height], responseStrokes.link)]),
  ];
};

const khz = (frequencyHz: number): string => `${Number((frequencyHz / 1000).toPrecision(4))} kHz`;

/** The longest word over a panel: where it has no room to the left of its line it stands to the right. */
const mostLabel = 135;

/** Where what is set lies below all that a panel shows, it says so: an empty panel tells nothing. */
const belowWords = ({ top, height, left: from }: Panel, view: ResponseView, stretch: StretchHz) => {
  const text = belowText(view, stretch);
  return text === null ? [] : [label(text, [from + 6, top + height - 8], fillIn('ink'))];
};

/** Round words that a line may run behind. */
const halo: Attributes = { 'stroke-width': 4, 'paint-order': 'stroke', ...strokeIn('paper') };

/** Words over a panel, each led down to what it names. */
const headings = (
  { x, top, left: from, width: across }: Panel,
  { guard }: ResponseView,
): readonly Element[] => {
  if (!guard) return [label('dB over Hz', [from, top - 5])];
  const named = [
    {
      text: `pilot, ${khz(guard.pilotHz)}`,
      at: x(guard.pilotHz),
      stroke: { 'stroke-width': 1, ...strokeIn('pilotEdge') },
    },
    ...(guard.linkEndsHz === null
      ? []
      : [
          {
            text: `link ends, ${khz(guard.linkEndsHz)}`,
            at: x(guard.linkEndsHz),
            stroke: responseStrokes.link,
          },
        ]),
    // What lies beside what is shown is not named over it.
  ].filter(({ at }) => at >= from && at <= from + across);
  const led = named.flatMap(({ text, at, stroke }, row) => {
    const baseline = top - 5 - (named.length - 1 - row) * (textUnits + 2);
    const leadsRight = at - from < mostLabel;
    const isCrossed = leadsRight && named.some((other) => other.at > at && other.at < at + mostLabel);
    return together([
      straight([at, baseline - textUnits + 3], [at, top], stroke),
      label(text, [at + (leadsRight ? 3 : -3), baseline], {
        anchor: leadsRight ? 'start' : 'end',
        ...(isCrossed ? halo : {}),
      }),
    ]);
  });
  return [label('dB over Hz', [from, top - 5 - (named.length - 1) * (textUnits + 2)]), ...led];
};

const chosenIn = ({ x, left: from, width: across }: Panel, { setHz }: NonNullable<ResponseView['places']>) =>
  setHz.filter((each) => x(each) >= from && x(each) <= from + across);

/** The desk's own frequencies under the close look: so one sees why it lies beside the pilot. */
const placeMarks = (panel: Panel, { places }: ResponseView): readonly Element[] => {
  if (!places) return [];
  const { x, top, height, left: from, width: across } = panel;
  const base = units(top + height + textUnits + 9);
  const areTooMany = places.count > places.frequenciesHz.length;
  const marks = areTooMany
    ? element('rect', { x: from, y: base + 1, width: across, height: 4, ...fillIn('quiet') })
    : element('path', {
        d: places.frequenciesHz.map((each) => `M${units(x(each))},${base}v6`).join(''),
        fill: 'none',
        'stroke-width': 1,
        ...strokeIn('quiet'),
      });
  const told =
    places.count === 0
      ? 'no bell or notch can stand here'
      : areTooMany
        ? `bells and notches: ${places.count} places`
        : 'where bells and notches can stand';
  return [
    ...together([...(places.count > 0 ? [marks] : []), label(told, [from, base + textUnits + 9])]),
    ...chosenIn(panel, places).map((each) => setMark([x(each), base + 3])),
  ];
};

/**
 * The response of a mix's filters, whole and close to the pilot: what was asked, what is set in every way the desk may build
 * it, what dialling by hand gives, what is held, and where the desk's knob can stand.
 */
export const responseFigure = (view: ResponseView): Element => {
  const span = { y: spanDb(view), xIs: 'logarithmic' as const };
  const headRoom = view.guard
    ? (view.guard.linkEndsHz === null ? 1 : 2) * (textUnits + 2) + 6
    : textUnits + 8;
  const panelAt = (top: number, height: number, x: StretchHz): Panel =>
    makePanel({ left, top, width: plotWidth, height }, { ...span, x });
  const whole = panelAt(headRoom, 130, wholeHz(view.guard));
  const closeTop = whole.top + whole.height + textUnits + 12 + headRoom;
  // Without a pilot there is nothing to look at closely.
  const close = view.guard && panelAt(closeTop, 150, closeHz(view.guard));
  const up = roundTicks(span.y, 6);
  const { top, height: lastHeight } = close ?? whole;
  const legendTop = top + lastHeight + textUnits + (close && view.places ? 52 : 22);
  const panels: readonly (readonly [Panel, AxisTicks])[] = [
    [whole, decadeTicks(whole)],
    ...(close ? [[close, kilohertzTicks(close)] as const] : []),
  ];
  const drawn = panels.flatMap(([panel, across]): Child[] => [
    ...axes(panel, across, up),
    within(panel, [
      ...together(pilotBlock(panel, view)),
      ...curves(panel, view),
      ...together(limits(panel, view)),
    ]),
    edge(panel),
    ...belowWords(panel, view, panel.x.domain() as [number, number]),
    ...headings(panel, view),
  ]);
  const hasSetMarks = close !== null && view.places !== null && chosenIn(close, view.places).length > 0;
  const [legendRows, legendHeight] = responseLegend([left, legendTop], view, hasSetMarks);
  return picture(
    view,
    [width, legendTop + legendHeight],
    [...drawn, ...(close ? placeMarks(close, view) : []), element('g', {}, legendRows)],
  );
};
