import { legendRowUnits, lineMark, type Mark, markLegend } from './marks.js';
import { type Attributes, type Element, element } from './markup.js';
import { fillIn, strokeIn } from './palette.js';
import { units } from './panel.js';
import type { Spot } from './paths.js';
import { type ResponseView, usualWords } from './response-view.js';

/** How the lines of a response are drawn. */
export const responseStrokes: Readonly<
  Record<'set' | 'asked' | 'hand' | 'keep' | 'link' | 'wanted', Attributes>
> = {
  set: { 'stroke-width': 2, ...strokeIn('set') },
  asked: { 'stroke-width': 1.5, 'stroke-dasharray': '6 3', ...strokeIn('asked') },
  hand: { 'stroke-width': 1.2, 'stroke-dasharray': '1.5 2', ...strokeIn('hand') },
  keep: { 'stroke-width': 1.5, 'stroke-dasharray': '9 2 2 2', ...strokeIn('keep') },
  link: { 'stroke-width': 1, 'stroke-dasharray': '3 2', ...strokeIn('link') },
  wanted: { 'stroke-width': 2.5, ...strokeIn('pilotEdge') },
};

/** Where a filter is set among the places where one can stand. */
export const setMark: Mark = ([x, y]) =>
  element('path', { d: `M${units(x)},${units(y - 6)}l4,6l-4,6l-4,-6Z`, ...fillIn('set') });

const rangeMark: Mark = ([x, y]) =>
  element('rect', { x: units(x - 12), y: units(y - 5), width: 24, height: 10, ...fillIn('range') });

/** What each line means, a row each, and how high that is. */
export const responseLegend = (
  [left, top]: Spot,
  { ways, byHand, guard, words = usualWords }: ResponseView,
  hasSetMarks: boolean,
): readonly [rows: readonly Element[], heightUnits: number] => {
  // A line is of one way of building only, and another curve's may be another.
  const inItsWay = (name: string): string =>
    ways.count === 1 ? name : guard ? `${name}, built worst for the pilot` : `${name}, one of the ways`;
  const line = (stroke: keyof typeof responseStrokes, text: string) => ({
    mark: lineMark(responseStrokes[stroke]),
    text,
  });
  const rows: readonly { readonly mark: Mark; readonly text: string }[] = [
    line('set', inItsWay(words.set)),
    ...(ways.count > 1
      ? [{ mark: rangeMark, text: `${words.set}, all ${ways.count} ways, each to where it ends` }]
      : []),
    ...(words.asked === null
      ? []
      : [line('asked', words.isAskedBuilt ? inItsWay(words.asked) : words.asked)]),
    ...(byHand ? [line('hand', inItsWay('by hand'))] : []),
    ...(guard ? [line('keep', 'music keeps above'), line('wanted', 'pilot wants below')] : []),
    ...(hasSetMarks ? [{ mark: setMark, text: `${words.set}: a bell or notch` }] : []),
  ];
  return [markLegend([left, top], rows), rows.length * legendRowUnits];
};
