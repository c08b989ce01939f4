import { describe, expect, it } from 'vitest';
import { all, axisOf, dotsOf, formsOf, near, pathsOf, rowsOf, tenths, textOf } from './drawn.js';
import { runLoaded } from './run.js';

interface Setting {
  readonly byRealisation: readonly { readonly id: string; readonly pilotAttenuationDb: number }[];
}

interface Near {
  readonly frequencyHz: number;
  readonly offsetHz: number;
  readonly offsetCents: number;
}

interface CheckJson {
  readonly targets: readonly {
    readonly id: string;
    readonly reach: Readonly<Record<'below' | 'at' | 'above' | 'nearest', Near | null>> &
      Readonly<Record<'best' | 'narrowest', Setting | null>>;
  }[];
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${tenths(value)}`;

describe('a page and a picture of a check', () => {
  it.each([
    ['a grid that misses the pilot', ['--target', 'log-179']],
    ['a grid that has it', ['--target', 'r40']],
    ['frequencies as typed', ['--frequencies', '18.67k,19.32k']],
  ])('of %s have the numbers that programs get', async (_, asked) => {
    const { page, svg, told } = await formsOf<CheckJson>((...args) =>
      runLoaded(['check', ...asked, ...args]),
    );
    const [target] = told.targets;
    if (!target) throw new Error('no target');
    const { below, at, above, best, narrowest } = target.reach;
    const texts = all(svg, 'text').map(textOf);
    const x = axisOf(svg, 'middle');
    const [strip] = all(svg, 'svg');
    if (!strip) throw new Error('nothing is drawn at the axis');
    const sides = [
      ['below', below],
      ['on it', at],
      ['above', above],
    ] as const;
    const ends = [...pathsOf(strip, 'fill-set'), ...pathsOf(strip, 'stroke-keep')].map(([across]) => across);
    expect(ends).toHaveLength(sides.filter(([, each]) => each !== null).length);
    for (const [word, each] of sides) {
      if (!each) continue;
      expect(texts).toContain(
        `${word}: ${(each.frequencyHz / 1000).toFixed(3)} kHz, ${signed(each.offsetHz)} Hz, ${signed(each.offsetCents)} cents`,
      );
      expect(Math.min(...ends.map((end) => Math.abs(end - x(each.offsetHz))))).toBeLessThan(0.16);
    }
    const ways = (best?.byRealisation ?? []).map(({ id, pilotAttenuationDb }, way) => [
      id,
      tenths(pilotAttenuationDb),
      tenths(narrowest?.byRealisation[way]?.pilotAttenuationDb ?? Number.NaN),
    ]);
    expect(ways.length).toBeGreaterThan(2);
    const rows = all(page, 'table').flatMap(rowsOf);
    for (const [id = '', ...figures] of ways) {
      expect(rows).toContainEqual([id, ...figures]);
      expect(texts[texts.indexOf(id) + 1]).toBe(`${figures.join(' / ')} dB`);
    }
    // The first dot is the legend's; each lies as far along as its figure is of the others.
    const dots = dotsOf(svg)
      .slice(1)
      .map(([across]) => across);
    const taken = best?.byRealisation.map(({ pilotAttenuationDb }) => pilotAttenuationDb) ?? [];
    const [least, most] = [Math.min(...taken), Math.max(...taken)];
    const [from = 0, to = 0] = [dots[taken.indexOf(least)], dots[taken.indexOf(most)]];
    taken.forEach((each, way) => {
      near(dots[way], from + ((each - least) / (most - least)) * (to - from));
    });
  });

  it('of all shipped grids have the numbers that programs get', async () => {
    const { page, svg, told } = await formsOf<CheckJson>((...args) => runLoaded(['check', ...args]));
    const texts = all(svg, 'text').map(textOf);
    const x = axisOf(svg, 'middle');
    const marks = [...pathsOf(svg, 'fill-set'), ...pathsOf(svg, 'stroke-keep')];
    const cards = all(page, 'li').map(textOf);
    for (const { id, reach } of told.targets) {
      const heading = all(svg, 'text').find((text) => textOf(text) === id);
      const baseline = Number(heading?.getAttribute('y'));
      const { nearest, at } = reach;
      const cents = `${signed(nearest?.offsetCents ?? Number.NaN)} cents`;
      expect(texts[texts.indexOf(id) + 1]).toBe(at ? 'on it' : `nearest ${cents}`);
      const card = cards.find((text) => text.startsWith(id));
      expect(card).toContain(at ? 'Neareston it' : cents);
      for (const each of [reach.below, reach.above]) {
        expect(card).toContain(each ? `${(each.frequencyHz / 1000).toFixed(3)} kHz` : 'none');
        if (!each || Math.abs(each.offsetCents) > 100) continue;
        const own = marks.filter(([, down]) => down > baseline && down < baseline + 15);
        expect([id, Math.min(...own.map(([across]) => Math.abs(across - x(each.offsetCents))))]).toEqual([
          id,
          expect.closeTo(0, 0),
        ]);
      }
    }
    expect(told.targets.length).toBeGreaterThan(15);
  });
});
