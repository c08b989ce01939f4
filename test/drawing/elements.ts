import type { Child, Element } from '../../src/drawing/markup.js';
import type { Spot } from '../../src/drawing/paths.js';

/** An element and all in it. */
export const within = (child: Child): readonly Element[] =>
  typeof child === 'string' ? [] : [child, ...child.children.flatMap(within)];

export const number = (value: unknown): number => Number(value);

/** From side to side, in the picture's units. */
export const sidesOf = ({ attributes: { x, width } }: Element) =>
  [number(x), number(x) + number(width)] as const;

/** What is in one of the colours, as `fill-set`. */
export const inColour = (part: Element, colour: string): readonly Element[] =>
  within(part).filter(({ attributes }) => attributes.class === colour);

export const textsOf = (part: Element): readonly string[] =>
  within(part)
    .filter(({ name }) => name === 'text')
    .map(({ children }) => children.join(''));

/** Where paths begin. */
export const startOf = ({ attributes: { d } }: Element): readonly [x: number, y: number] => {
  const [, x, y] = /^M(-?[\d.]+),(-?[\d.]+)/.exec(String(d)) ?? [];
  return [number(x), number(y)];
};

/** Lines of a path, each by its places: SVG 1.1, section 8.3, as far as moves and lines go, absolute and relative. */
export const linesOf = (data: string): readonly (readonly Spot[])[] => {
  const lines: Spot[][] = [];
  let [atX, atY] = [0, 0];
  for (const [, command = '', rest = ''] of data.matchAll(/([MmLlZz])([^MmLlZz]*)/g)) {
    const numbers = (rest.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    for (let index = 0; index < numbers.length; index += 2) {
      const [x = Number.NaN, y = Number.NaN] = numbers.slice(index, index + 2);
      const isRelative = command === command.toLowerCase();
      [atX, atY] = isRelative ? [atX + x, atY + y] : [x, y];
      if (/m/i.test(command) && index === 0) lines.push([]);
      lines.at(-1)?.push([atX, atY]);
    }
  }
  return lines;
};
