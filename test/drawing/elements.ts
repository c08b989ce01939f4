import type { Child, Element } from '../../src/drawing/markup.js';

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
