import { describe, expect, it } from 'vitest';
import { all, axisOf, dotsOf, formsOf, near, pathsOf, rowsOf, tenths, textOf } from './drawn.js';
import { runLoaded } from './run.js';
import { bell, guarded, lowCut, shelf, standingDesk } from './standing-desk.js';

interface Point {
  readonly keepLossDb: number;
  readonly pilotAttenuationDb: number;
}

interface TradeoffJson {
  readonly frontier: readonly (Point & { readonly keepLossAtMostDb: number })[];
  readonly nearest: Point;
  readonly asked: { readonly pilotAttenuationDb: number; readonly reached: Point | null };
}

describe('a page and a picture of a trade-off', () => {
  it('have the numbers that programs get', async () => {
    const { page, svg, told } = await formsOf<TradeoffJson>((...args) =>
      runLoaded(['tradeoff', '--target', 'log-179', ...args]),
    );
    const { frontier, nearest, asked } = told;
    expect(frontier.length).toBeGreaterThan(3);
    const figures = ({ keepLossDb, pilotAttenuationDb }: Point) => [
      keepLossDb.toFixed(2),
      tenths(pilotAttenuationDb),
    ];
    const [table] = all(page, 'table');
    if (!table) throw new Error('no table');
    expect(rowsOf(table).filter((row) => row.length === 3)).toEqual([
      ['within, dB', 'lost, dB', 'pilot, dB'],
      ...frontier.map((point) => [point.keepLossAtMostDb.toFixed(2), ...figures(point)]),
      ['Every knob at its nearest step', ...figures(nearest)],
      ...(asked.reached ? [['Least loss that reaches what is asked', ...figures(asked.reached)]] : []),
    ]);
    const [x, y] = [axisOf(svg, 'middle'), axisOf(svg, 'end')];
    // The numbers of an upright axis stand a third of a letter below their lines: by as much everywhere.
    const lowered = (pathsOf(svg, 'stroke-pilotEdge')[0]?.[1] ?? Number.NaN) - y(asked.pilotAttenuationDb);
    expect(Math.abs(lowered)).toBeLessThan(5);
    const placed = dotsOf(svg).slice(0, frontier.length);
    frontier.forEach(({ keepLossDb, pilotAttenuationDb }, index) => {
      near(placed[index]?.[0], x(keepLossDb));
      near(placed[index]?.[1], y(pilotAttenuationDb) + lowered);
    });
    const texts = all(svg, 'text').map(textOf);
    expect(texts).toContain(`asked at the pilot: ${tenths(asked.pilotAttenuationDb)} dB`);
    const reached = `least loss that reaches it: ${asked.reached?.keepLossDb.toFixed(2)} dB`;
    expect(texts.includes(reached)).toBe(asked.reached !== null);
  });

  it('tell where nothing reaches what is asked', async () => {
    const { page, svg, told } = await formsOf<TradeoffJson>((...args) =>
      runLoaded(['tradeoff', '--target', 'graphic-31', '--attenuation', '60', ...args]),
    );
    expect(told.asked.reached).toBe(null);
    expect(textOf(page)).toContain('Asked at the pilot: 60.0 dB; nothing reaches that.');
    expect(all(svg, 'text').map(textOf).join()).not.toContain('least loss');
  });
});

interface CompareJson {
  readonly desks: readonly {
    readonly id: string;
    readonly fits: boolean;
    readonly verdict?: string;
    readonly pilot?: { readonly attenuationDb: number; readonly askedDb: number } | null;
    readonly keepLossDb?: number | null;
    readonly dials?: { readonly knobs: number };
  }[];
}

describe('a page and a picture of a comparison', () => {
  it('have the order and the numbers that programs get', async () => {
    const targets = ['log-179', 'top-18', 'hertz-1', 'four-band'];
    const { page, svg, told } = await formsOf<CompareJson>((...args) =>
      runLoaded(['compare', 'test/fixtures/rig-small.json', '--targets', targets.join(), ...args]),
    );
    const texts = all(svg, 'text').map(textOf);
    const cards = all(page, 'li').map(textOf);
    expect(cards).toHaveLength(told.desks.length);
    const widthsOf = (look: string): readonly number[] =>
      all(svg, 'rect')
        .filter((bar) => bar.getAttribute('class') === look)
        .map((bar) => Number(bar.getAttribute('width')));
    const [bars, [track = Number.NaN]] = [widthsOf('fill-set'), widthsOf('fill-grid')];
    const shown = told.desks.filter(({ pilot }) => pilot);
    expect(shown.length).toBeGreaterThan(2);
    // One takes more than the 40 dB that are shown at most (no source), and is a bar that goes on.
    const takenDb = shown.map(({ pilot }) => pilot?.attenuationDb ?? Number.NaN);
    expect(takenDb.filter((each) => each > 40)).toHaveLength(1);
    expect(pathsOf(svg, 'fill-set').filter(([x]) => x > track)).toHaveLength(1);
    takenDb.forEach((each, index) => {
      if (each <= 40) near(bars[index], (track / 40) * each);
      else expect(bars[index]).toBeLessThan(track);
    });
    told.desks.forEach(({ id, pilot, keepLossDb, dials, verdict }, index) => {
      const name = `${index + 1}. ${id}`;
      expect(cards[index]).toMatch(new RegExp(`^${name.replace('.', '\\.')}`));
      expect(texts).toContain(name);
      if (!pilot) return;
      const figures = `${tenths(pilot.attenuationDb)} dB down, at least ${tenths(pilot.askedDb)} dB asked`;
      const lost = `${tenths(Math.max(0, keepLossDb ?? Number.NaN))} dB lost`;
      expect(cards[index]).toContain(`Pilot${figures}`);
      expect(cards[index]).toContain(`Music${lost}`);
      expect(cards[index]).toContain(`Dials${dials?.knobs}`);
      expect(cards[index]).toContain(verdict === 'met' ? 'GUARD MET' : 'FALLS SHORT');
      expect(texts).toContain(`${figures}; ${lost}`);
    });
  });
});

interface InspectJson {
  readonly mixes: readonly {
    readonly name: string;
    readonly state: string;
    readonly guard: { readonly limits: { readonly pilotAttenuationAtLeastDb: number } };
    readonly read: readonly {
      readonly worst: { readonly pilotAttenuationDb: number } | null;
      readonly slots: readonly { readonly slot: string; readonly shown: string }[];
      readonly messages: readonly string[];
    }[];
  }[];
}

describe('a page and a picture of an inspection', () => {
  const words: Readonly<Record<string, string>> = {
    safe: 'PILOT SAFE',
    'at-risk': 'AT RISK',
    'not-known': 'NOT KNOWN',
  };

  it.each([
    ['one that is safe and one at risk', [bell('1', 174), bell('2', 175), lowCut, shelf], []],
    ['what cannot be understood', guarded, ['wrong-type=100%']],
  ] as const)('have what programs get, of %s', async (_, lark, faults) => {
    const desk = await standingDesk(guarded, lark, { faults });
    const { page, svg, told } = await formsOf<InspectJson>((...args) => desk.inspect(...args));
    expect(desk.counts()).toMatchObject({ write: 0 });
    const sections = all(page, 'section').filter((each) => /^mix-\d+$/.test(each.getAttribute('id') ?? ''));
    expect(sections).toHaveLength(told.mixes.length);
    told.mixes.forEach(({ name, state, guard, read }, index) => {
      const [section] = sections.slice(index);
      if (!section) throw new Error('no section');
      const text = textOf(section);
      expect(text).toContain(`${name}${words[state]}`);
      const rows = all(section, 'table').flatMap(rowsOf);
      const items = all(section, 'li').map((item) => textOf(item).toLowerCase().replaceAll('±', '+-'));
      for (const each of read) {
        for (const { slot, shown } of each.slots)
          expect(rows).toContainEqual([slot, shown.replace(/\s+/g, ' ')]);
        for (const message of each.messages) expect(items).toContain(message.toLowerCase());
      }
      const figures = read.map(({ worst }) => worst?.pilotAttenuationDb ?? null);
      const known = figures.every((figure) => figure !== null);
      expect(all(section, 'figure').length > 0).toBe(known);
      expect(text.includes('No curves for output')).toBe(!known);
      const told = known
        ? `pilot ${tenths(Math.min(...(figures as number[])))} dB down, at least ${tenths(guard.limits.pilotAttenuationAtLeastDb)} dB asked`
        : 'what is taken at the pilot is not known';
      expect(text).toContain(told);
      expect(all(svg, 'text').map(textOf).join('\n')).toContain(told);
    });
  });
});
