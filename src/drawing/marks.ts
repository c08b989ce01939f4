import { type Attributes, type Element, element } from './markup.js';
import { type Colour, fillIn, strokeIn } from './palette.js';
import { label, straight, textUnits, units } from './panel.js';
import type { Spot } from './paths.js';

/** A mark at a place of a picture: each has a shape of its own, so that none is told by its colour. */
export type Mark = (at: Spot) => Element;

const path = (d: string, attributes: Attributes): Element => element('path', { d, ...attributes });

/** A full dot. */
export const dot: Mark = ([x, y]) =>
  element('circle', { cx: units(x), cy: units(y), r: 3.2, ...fillIn('set') });

/** An open square. */
export const square: Mark = ([x, y]) =>
  path(`M${units(x - 3.5)},${units(y - 3.5)}h7v7h-7Z`, {
    'stroke-width': 1.8,
    ...strokeIn('hand'),
    ...openIn('hand'),
  });

/** Outlined in a colour, with the paper inside. */
function openIn(colour: Colour): Attributes {
  const { class: filled, ...paper } = fillIn('paper');
  return { ...paper, ...strokeIn(colour), class: `stroke-${colour} ${filled}` };
}

/** A diamond, larger than other marks. */
export const diamond: Mark = ([x, y]) =>
  path(`M${units(x)},${units(y - 6)}l5,6l-5,6l-5,-6Z`, { 'stroke-width': 1.8, ...openIn('keep') });

/** A triangle that points the way, full. */
export const arrow =
  (way: 'left' | 'right', colour: Colour = 'set'): Mark =>
  ([x, y]) =>
    path(`M${units(x)},${units(y)}l${way === 'left' ? 7 : -7},-4.5v9Z`, fillIn(colour));

/** For what lies beyond an end of an axis: they point outwards, with their tips at it. */
export const beyondMarks: Readonly<Record<'below' | 'above', Mark>> = {
  below: arrow('left', 'quiet'),
  above: arrow('right', 'quiet'),
};

/** Whether something holds: a tick, a cross, or a dash where nothing is to hold. */
export const verdictMark =
  (is: 'good' | 'bad' | 'plain'): Mark =>
  ([x, y]) => {
    const [across, down] = [units(x), units(y)];
    const shapes = {
      good: `M${across},${down}m-4.5,0l3,3.5l6,-7.5`,
      bad: `M${across},${down}m-4,-4l8,8m-8,0l8,-8`,
      plain: `M${across},${down}m-4,0h8`,
    };
    const colour = { good: 'keep', bad: 'hand', plain: 'quiet' } as const;
    return path(shapes[is], { fill: 'none', 'stroke-width': 2.2, ...strokeIn(colour[is]) });
  };

/** What each mark means, a row each; as many of them as there are. */
export const markLegend = (
  [left, top]: Spot,
  rows: readonly { readonly mark: Mark; readonly text: string }[],
): readonly Element[] =>
  rows.flatMap(({ mark, text }, index) => {
    const y = top + index * legendRowUnits;
    return [mark([left + 12, y]), label(text, [left + 30, y + textUnits / 3])];
  });

/** How high a row of a legend is. */
export const legendRowUnits = textUnits + 5;

/** A stretch of a line, as a mark of a legend. */
export const lineMark =
  (attributes: Attributes): Mark =>
  ([x, y]) =>
    straight([x - 12, y], [x + 12, y], attributes);

/**
 * How wide characters are at most in the fonts that systems bring, as a share of their height; what no pattern fits is as
 * wide as most letters. From memory, on the wide side: what is cut too early can be read on the page.
 */
const widths: readonly (readonly [pattern: RegExp, share: number])[] = [
  [/[ijl.,:;'|! ]/, 0.34],
  [/[ft()[\]-]/, 0.42],
  [/[mwMW@%&—…]/, 1],
  [/[A-Z]/, 0.75],
  [/[\u{1100}-\u{10ffff}]/u, 1.1],
];

/** How much wider bold letters are. */
const boldShare = 1.12;

/** A text in so many units of a picture: what has no room is cut, and says so. */
export const cutTo = (text: string, roomUnits: number, isBold = false): string => {
  const scale = textUnits * (isBold ? boldShare : 1);
  const wide = (character: string): number =>
    scale * (widths.find(([pattern]) => pattern.test(character))?.[1] ?? 0.64);
  const characters = Array.from(text);
  const whole = characters.reduce((sum, each) => sum + wide(each), 0);
  if (whole <= roomUnits) return text;
  let left = roomUnits - wide('…');
  const end = characters.findIndex((each) => {
    left -= wide(each);
    return left < 0;
  });
  return `${characters.slice(0, end).join('')}…`;
};
