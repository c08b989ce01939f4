import { describe, expect, it } from 'vitest';
import type { Element } from '../../src/drawing/markup.js';
import { responseFigure } from '../../src/drawing/response-figure.js';
import { plotLegend, responsePlotLines } from '../../src/drawing/response-plot.js';
import { type ResponseView, spanDb } from '../../src/drawing/response-view.js';
import { inColour, number, sidesOf, within } from './elements.js';
import { flat, flatView, frequenciesHz, guardAt } from './flat-view.js';

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
      const [block] = inColour(panel, 'fill-pilot').map(sidesOf);
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

  it.each([
    // Limits to 120 dB at the pilot and 60 dB of music: schemas/rig.schema.json.
    [80, 3],
    [120, 3],
    [20, 60],
  ])(
    'holds the marks of a limit of %i dB at the pilot and of %i dB of music',
    (attenuationAtLeastDb, keepLossAtMostDb) => {
      const view = guardAt(19_000, 100, { attenuationAtLeastDb, keepLossAtMostDb });
      for (const panel of figureOf(view).panels) {
        const [top, bottom] = [
          number(panel.attributes.y),
          number(panel.attributes.y) + number(panel.attributes.height),
        ];
        const marks = [...inColour(panel, 'stroke-pilotEdge'), ...inColour(panel, 'stroke-keep')]
          .map(({ attributes: { d } }) => /^M[\d.-]+,([\d.-]+)L[\d.-]+,([\d.-]+)$/.exec(String(d)))
          .flatMap((ends) => (ends && ends[1] === ends[2] ? [number(ends[1])] : []));
        expect(marks.length).toBeGreaterThan(0);
        for (const at of marks) expect([at > top + 2, at < bottom - 2]).toEqual([true, true]);
      }
      const [lowest] = spanDb(view);
      expect(lowest).toBeLessThan(-Math.max(attenuationAtLeastDb, keepLossAtMostDb));
      expect(responsePlotLines(view, 80).filter((line) => line.includes('='))).toHaveLength(2);
      expect(responsePlotLines(view, 80).filter((line) => /_{9}/.test(line))).toHaveLength(1);
    },
  );

  /** A straight line at so many dB. */
  const at = (levelDb: number) => flat.map(() => levelDb);
  const set = (levelDb: number): ResponseView['set'] => ({
    levelsDb: at(levelDb),
    lowestDb: at(levelDb),
    highestDb: at(levelDb),
  });

  it.each<readonly [string, Partial<ResponseView>]>([
    ['what is set in its highest way', { set: { ...flatView.set, highestDb: at(6) } }],
    ['what is asked', { asked: at(6) }],
    ['what is by hand', { byHand: at(6) }],
  ])('ends above %s', (_, curves) => {
    for (const { guard } of [flatView, { guard: null }]) {
      const [, highest] = spanDb({ ...flatView, ...curves, guard });
      expect([highest > 6, highest < 20]).toEqual([true, true]);
    }
  });

  it.each([
    [-3, -6],
    [-10, -12],
    [-28, -40],
    [-55, -60],
    [-90, -60],
    [Number.NEGATIVE_INFINITY, -60],
  ])(
    'follows filters that take down to %f dB to a floor at %f dB where there is no pilot',
    (levelDb, floorDb) => {
      const curves = [{ set: set(levelDb) }, { asked: at(levelDb) }, { byHand: at(levelDb) }];
      const plain = { ...flatView, set: set(0), guard: null };
      expect(curves.map((each) => spanDb({ ...plain, ...each })[0])).toEqual([floorDb, floorDb, floorDb]);
      const told = responsePlotLines({ ...plain, ...curves[0] }, 80).filter((line) =>
        /^ +-?\d+ \|/.test(line),
      );
      expect(told.length).toBeGreaterThan(2);
    },
  );

  const several = { ...flatView, byHand: flat, ways: { count: 5, drawn: 'cookbook-48k' } };

  it('says which of several ways of building each line is of, and that not every way reaches as far', () => {
    const textsOf = (view: ResponseView) => figureOf(view).texts.map(({ text }) => text);
    expect(textsOf(several)).toEqual(
      expect.arrayContaining([
        'set, built worst for the pilot',
        'by hand, built worst for the pilot',
        'set, all 5 ways, each to where it ends',
        'asked',
      ]),
    );
    const words = { set: 'stands', asked: 'its recipe', isAskedBuilt: true };
    expect(textsOf({ ...several, words })).toEqual(
      expect.arrayContaining([
        'stands, built worst for the pilot',
        'its recipe, built worst for the pilot',
        'stands, all 5 ways, each to where it ends',
      ]),
    );
    expect(textsOf({ ...several, byHand: null, guard: null })).toContain('set, one of the ways');
    expect(textsOf(flatView)).toEqual(expect.arrayContaining(['set', 'asked']));
    expect(textsOf(flatView).join()).not.toMatch(/built|ways/);
    expect(plotLegend([several], 120)).toEqual(
      expect.arrayContaining([
        '#  set, in that of 5 ways of building that is worst for the pilot',
        'h  by hand, in that of 5 ways of building that is worst for the pilot',
        ':  set, all ways of building, each as far as it reaches',
        '-  asked',
      ]),
    );
    expect(plotLegend([{ ...several, byHand: null, guard: null }], 120)[0]).toBe(
      '#  set, built as cookbook-48k',
    );
  });

  it('says so where what is set lies below all that a panel shows', () => {
    const deep = frequenciesHz.map((frequencyHz) => (frequencyHz < 5000 ? 0 : -72.4));
    const view = { ...flatView, set: { levelsDb: deep, lowestDb: deep, highestDb: deep } };
    const told = 'set: below the picture, at most -72 dB';
    expect(figureOf(view).texts.filter(({ text }) => text.includes('below the'))).toMatchObject([
      { text: told },
    ]);
    expect(responsePlotLines(view, 40)).toContain(told);
    // Some of it seen in the close look is enough.
    const partly = frequenciesHz.map((frequencyHz) => (frequencyHz < 12_500 ? 0 : -72.4));
    const seen = { ...flatView, set: { levelsDb: partly, lowestDb: partly, highestDb: partly } };
    expect(figureOf(seen).texts.some(({ text }) => text.includes('below the'))).toBe(false);
    expect(responsePlotLines(seen, 40).join()).not.toContain('below the');
  });
});
