import { describe, expect, it } from 'vitest';
import type { Element } from '../../src/drawing/markup.js';
import { type MeritRow, meritFigure } from '../../src/drawing/merit-figure.js';
import { nearFigure } from '../../src/drawing/near-figure.js';
import { offsetsFigure } from '../../src/drawing/offsets-figure.js';
import { inColour, number, sidesOf, startOf, textsOf, within } from './elements.js';

const told = { title: '', description: '' };

const meritOf = (taken: readonly number[], askedDb = 16): Element =>
  meritFigure({
    ...told,
    words: { taken: 'taken', asked: 'asked' },
    rows: taken.map(
      (takenDb): MeritRow => ({
        name: 'Wren',
        verdict: { text: 'FALLS SHORT', is: 'bad' },
        pilot: { takenDb, askedDb },
        figures: `${takenDb} dB`,
      }),
    ),
  });

/** The bars of a colour, without those of the legend, which are 24 wide. */
const barsOf = (figure: Element, colour: string) =>
  inColour(figure, colour)
    .filter(({ name, attributes }) => name === 'rect' && attributes.width !== 24)
    .map(sidesOf);

const arrowsOf = (figure: Element, colour: string) =>
  inColour(figure, colour)
    .filter(({ name, attributes }) => name === 'path' && /^M[\d.]+,[\d.]+l-?7,/.test(String(attributes.d)))
    .map(startOf);

describe('a merit figure', () => {
  it('draws what is added to the other side of nothing, in another fill, with words for it', () => {
    const figure = meritOf([20, -10]);
    const [[zero, end] = [0, 0]] = barsOf(figure, 'fill-set');
    const [[from, to] = [0, 0]] = barsOf(figure, 'fill-hand');
    expect(to).toBeCloseTo(zero, 1);
    // Half as much added as is taken: half as long.
    expect((to - from) / (end - zero)).toBeCloseTo(0.5, 2);
    // One over each bar, one in the legend.
    const [first, second, ...others] = inColour(figure, 'stroke-ink').map(startOf);
    expect([first?.[0], second?.[0]]).toEqual([zero, zero]);
    expect(others).toHaveLength(1);
    expect(textsOf(figure)).toEqual(expect.arrayContaining(['added there', 'neither: 0 dB']));
  });

  it('has no words for what is not there', () => {
    const figure = meritOf([20, 10]);
    expect(inColour(figure, 'stroke-ink')).toHaveLength(0);
    expect(textsOf(figure).join()).not.toMatch(/added|neither|goes on/);
  });

  it.each([
    // 40 dB, or a quarter more than what is asked: the limits stated for it, no source.
    [16, 40],
    [80, 100],
  ])('where %i dB are asked goes no further than %i dB, and shows which bars go on', (askedDb, mostDb) => {
    const figure = meritOf([120, mostDb / 2], askedDb);
    const [track = [0, 0]] = barsOf(figure, 'fill-grid');
    const [long = [0, 0], half = [0, 0]] = barsOf(figure, 'fill-set');
    expect((half[1] - half[0]) / (track[1] - track[0])).toBeCloseTo(0.5, 2);
    expect(long[1]).toBeLessThan(track[1]);
    const [arrow] = arrowsOf(figure, 'fill-set');
    expect(arrow?.[0]).toBeCloseTo(track[1], 1);
    expect(textsOf(figure)).toContain(`goes on: more than ${mostDb} dB`);
    expect(arrowsOf(meritOf([mostDb], askedDb), 'fill-set')).toEqual([]);
  });

  it('tells figures in full, in rows where one has no room', () => {
    const figures = 'pilot 102.5 dB down, at least 115.6 dB asked; it stands as its recipe';
    const figure = meritFigure({
      ...told,
      words: { taken: 'taken', asked: 'asked' },
      rows: [{ name: 'Wren', verdict: { text: 'SAFE', is: 'good' }, pilot: null, figures }],
    });
    expect(textsOf(figure).join(' ')).toContain(figures);
    expect(textsOf(figure).length).toBeGreaterThan(3);
  });
});

describe('the figures of a check', () => {
  it('hold a window that is wider than what is shown inside the frame', () => {
    const figure = offsetsFigure({
      ...told,
      windowCents: [-112, 105],
      rows: [
        { name: 'log-179', belowCents: -20, atCents: null, aboveCents: 15, nearest: 'nearest 15 cents' },
      ],
      words: { axis: '', window: '', below: '', at: '', above: '', beyond: '' },
    });
    const clips = within(figure).filter((each) => each !== figure && each.name === 'svg');
    const frame = inColour(figure, 'stroke-quiet').map(sidesOf)[0] ?? [0, 0];
    const blocks = inColour(figure, 'fill-pilot').filter(({ attributes }) => attributes.width !== 24);
    expect(blocks).toHaveLength(1);
    const [clip] = clips.filter((each) => within(each).includes(blocks[0] as Element));
    expect(clip && sidesOf(clip)).toEqual(frame);
  });

  it('put an arrow at the end of the axis for what takes more than is shown', () => {
    const figure = nearFigure({
      ...told,
      windowHz: 0.01,
      next: [],
      offsetsHz: [0],
      reachHz: 2,
      deepestDb: 100,
      ways: [
        { name: 'one', takenDb: [130, 50], text: '' },
        { name: 'two', takenDb: [98, 75], text: '' },
      ],
      words: { axis: '', window: '', others: '', taken: '' },
      settings: ['best', 'narrowest'],
    });
    const dots = inColour(figure, 'fill-set').map(({ attributes }) => number(attributes.cx));
    // One in the legend, one of the second way: the first way's lies beyond.
    expect(dots).toHaveLength(2);
    expect(Math.max(...dots)).toBeLessThan(348);
    const arrows = arrowsOf(figure, 'fill-quiet').map(([x]) => x);
    expect(arrows).toContain(348);
    expect(textsOf(figure)).toContain('more than 100 dB');
    const lines = inColour(figure, 'stroke-range').map(({ attributes }) => String(attributes.d));
    for (const line of lines) expect(number(/L([\d.]+),/.exec(line)?.[1])).toBeLessThanOrEqual(348);
  });
});
