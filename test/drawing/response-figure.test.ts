import { describe, expect, it } from 'vitest';
import type { Child, Element } from '../../src/drawing/markup.js';
import { responseFigure } from '../../src/drawing/response-figure.js';
import type { ResponseView } from '../../src/drawing/response-view.js';
import { flatView, guardAt } from './flat-view.js';

const within = (child: Child): readonly Element[] =>
  typeof child === 'string' ? [] : [child, ...child.children.flatMap(within)];

const figureOf = (view: ResponseView) => {
  const figure = responseFigure(view);
  const all = within(figure);
  const textOf = ({ children }: Element): string => children.join('');
  return {
    panels: all.filter((each) => each !== figure && each.name === 'svg'),
    texts: all
      .filter(({ name }) => name === 'text')
      .map((each) => ({ text: textOf(each), at: each.attributes })),
    description: textOf(all.find(({ name }) => name === 'desc') as Element),
  };
};

const number = (value: unknown): number => Number(value);

/** From side to side, in the picture's units. */
const sidesOf = ({ attributes: { x, width } }: Element) => [number(x), number(x) + number(width)] as const;

const inPanel = (panel: Element, colour: string): readonly Element[] =>
  within(panel).filter(({ attributes }) => attributes.class === colour);

describe('a response figure', () => {
  it.each([
    [16_000, 100],
    [19_000, 1000],
    [21_000, 100],
    [22_000, 1000],
  ])('shows both edges of the window of a pilot at %i Hz, +-%i Hz, in both panels', (pilotHz, windowHz) => {
    const { panels, texts } = figureOf(guardAt(pilotHz, windowHz));
    expect(panels).toHaveLength(2);
    for (const panel of panels) {
      const [left, right] = sidesOf(panel);
      const [block] = inPanel(panel, 'fill-pilot').map(sidesOf);
      expect(block?.[0]).toBeGreaterThan(left + 1);
      expect(block?.[1]).toBeLessThan(right - 1);
    }
    const named = texts.filter(({ text }) => text === `pilot, ${pilotHz / 1000} kHz`);
    expect(named).toHaveLength(2);
    for (const {
      at: { x, 'text-anchor': anchor },
    } of named) {
      // Letters of 0.6 em at most: common practice, no source.
      const wide = 13 * 0.6 * 12.5;
      const [from, to] = anchor === 'end' ? [number(x) - wide, number(x)] : [number(x), number(x) + wide];
      expect([from > 0, to < 360]).toEqual([true, true]);
    }
  });

  it('names the end of a link only over the panel that shows it', () => {
    const { texts } = figureOf(guardAt(19_000, 100, { linkEndsHz: 8000 }));
    expect(texts.filter(({ text }) => text.startsWith('link ends'))).toHaveLength(1);
    expect(texts.every(({ at }) => number(at.x) > 0)).toBe(true);
  });

  it('has one panel and no marks of places where there is no pilot', () => {
    const { panels, texts } = figureOf({ ...flatView, guard: null });
    expect(panels).toHaveLength(1);
    expect(texts.map(({ text }) => text).join()).not.toMatch(/pilot|stand|music/);
  });
});
