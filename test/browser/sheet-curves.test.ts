import { OfflineAudioContext } from 'node-web-audio-api';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { RecipeMix } from '../../src/model/recipe.js';
import { chromiumPath } from './installed.js';
import { screens, useBrowser } from './look.js';
import { anySlots, atOnce, deskOf, fitted, manyOutputs, rigOf24 } from './shows.js';

const { write, open } = useBrowser();

type Place = readonly [x: number, y: number];

/** The first picture of a page, in the picture's own units, as the browser understands it: panels, whole and close. */
const pictureOf = (page: Page) =>
  page.evaluate(() => {
    const outer = document.querySelector('figure > svg') as SVGSVGElement;
    const all = <Kind extends SVGGraphicsElement>(selector: string) => [
      ...outer.querySelectorAll<Kind>(selector),
    ];
    const place = (element: SVGGraphicsElement, x: number, y: number): [number, number] => {
      const [here, there] = [element.getScreenCTM(), outer.getScreenCTM()];
      if (!here || !there) throw new Error('not drawn');
      const point = new DOMPoint(x, y).matrixTransform(there.inverse().multiply(here));
      return [point.x, point.y];
    };
    const boxOf = (element: SVGGraphicsElement) => {
      const { x, y, width, height } = element.getBBox();
      const [[left, top], [right, bottom]] = [place(element, x, y), place(element, x + width, y + height)];
      return { left, top, right, bottom };
    };
    const sampled = (path: SVGPathElement) =>
      Array.from({ length: Math.ceil(path.getTotalLength() * 10) }, (_, index) => {
        const { x, y } = path.getPointAtLength(index / 10);
        return place(path, x, y);
      });
    const labels = (anchor: string) =>
      all<SVGGElement>(`:scope > g[text-anchor="${anchor}"]`).map((group) =>
        [...group.querySelectorAll('text')].map((text) => {
          const { left, right, bottom } = boxOf(text);
          return { text: text.textContent ?? '', across: (left + right) / 2, down: bottom };
        }),
      );
    const [across, up, grids] = [labels('middle'), labels('end'), all<SVGGElement>(':scope > g.stroke-grid')];
    const panels = all<SVGSVGElement>('svg').map((panel, index) => {
      const boxes = (selector: string) =>
        [...panel.querySelectorAll<SVGGraphicsElement>(selector)].map(boxOf);
      return {
        across: across[index] ?? [],
        up: up[index] ?? [],
        levels: boxOf(grids[index]?.lastElementChild as SVGGraphicsElement),
        set: sampled(panel.querySelector('path.stroke-set') as SVGPathElement),
        pilot: boxes('rect.fill-pilot'),
        keep: boxes('.stroke-keep'),
        wanted: boxes('.stroke-pilotEdge').filter(({ top, bottom }) => Math.abs(top - bottom) < 0.01),
        link: boxes('.stroke-link'),
      };
    });
    const marks = all<SVGPathElement>('path.stroke-quiet').map((path) => path.getAttribute('d') ?? '');
    const diamonds = all<SVGPathElement>(':scope > path.fill-set').map(boxOf);
    return { panels, marks, diamonds };
  });

type Panel = Awaited<ReturnType<typeof pictureOf>>['panels'][number];

const numberOf = (label: string): number => Number(label.replace('k', '')) * (label.endsWith('k') ? 1000 : 1);

/** The straight line through points, by least squares, and how far the farthest lies from it. */
const lineThrough = (points: readonly Place[]) => {
  const mean = (of: (point: Place) => number) =>
    points.reduce((sum, each) => sum + of(each), 0) / points.length;
  const [meanX, meanY] = [mean(([x]) => x), mean(([, y]) => y)];
  const slope = mean(([x, y]) => (x - meanX) * (y - meanY)) / mean(([x]) => (x - meanX) ** 2);
  const at = (x: number): number => meanY + slope * (x - meanX);
  return { at, farthest: Math.max(...points.map(([x, y]) => Math.abs(y - at(x)))) };
};

/** Where a frequency and a level stand in a panel, told by the numbers at its axes and the lines of its grid alone. */
const scalesOf = ({ across, up, levels }: Panel) => {
  const x = lineThrough(across.map(({ text, across: at }): Place => [Math.log(numberOf(text)), at]));
  const y = lineThrough(up.map(({ text, down }): Place => [Number(text), down]));
  expect(across.length).toBeGreaterThan(6);
  expect(up.length).toBeGreaterThan(3);
  // A twentieth of a unit is what drawing to tenths may lose, the rest what a browser's letters take.
  expect(x.farthest).toBeLessThan(0.35);
  expect(y.farthest).toBeLessThan(0.1);
  const highest = Math.max(...up.map(({ text }) => Number(text)));
  const lift = levels.top - y.at(highest);
  return { x: (hz: number) => x.at(Math.log(hz)), y: (levelDb: number) => y.at(levelDb) + lift };
};

const distance = (points: readonly (readonly number[])[], [x, y]: Place): number =>
  Math.min(...points.map(([atX = 0, atY = 0]) => Math.hypot(atX - x, atY - y)));

/** By node-web-audio-api's getFrequencyResponse: the cookbook's filters at 48 kHz; cuts take Q in dB (W3C Web Audio API). */
const levelsDb = ({ filters }: RecipeMix, frequenciesHz: readonly number[]): readonly number[] => {
  const context = new OfflineAudioContext(1, 1, 48000);
  const levels = frequenciesHz.map(() => 0);
  for (const { type, set } of filters) {
    const node = context.createBiquadFilter();
    node.type = type;
    node.frequency.value = set.frequencyHz;
    // A Butterworth cut of 12 dB/oct has Q 1/sqrt 2.
    node.Q.value = type === 'peaking' ? (set.q ?? 1) : 20 * Math.log10(set.q ?? Math.SQRT1_2);
    node.gain.value = set.gainDb ?? 0;
    const magnitude = new Float32Array(levels.length);
    node.getFrequencyResponse(Float32Array.from(frequenciesHz), magnitude, new Float32Array(levels.length));
    magnitude.forEach((value, index) => {
      levels[index] = (levels[index] ?? 0) + 20 * Math.log10(value);
    });
  }
  return levels;
};

/** What leaving places out may lose (0.12), tenths (0.07), and axes told by letters; 0.3 was seen. */
const toleranceUnits = 0.4;

describe.skipIf(!chromiumPath)('the curves of a sheet', () => {
  it('have words of 10.5 px and more on a phone of 360 px', async () => {
    const { html } = fitted(anySlots(await rigOf24(), 1), await deskOf('cut-section', manyOutputs), atOnce);
    const { page } = await open(await write(html), { viewport: screens.phone });
    const heightsPx = await page.locator('figure > svg text').evaluateAll((all) =>
      all.map((text) => {
        const scale = (text as SVGTextElement).getScreenCTM()?.a ?? Number.NaN;
        return scale * Number.parseFloat(getComputedStyle(text).fontSize);
      }),
    );
    expect(heightsPx.length).toBeGreaterThan(30);
    // The least that is read at arm's length: common practice, no source.
    expect(Math.min(...heightsPx)).toBeGreaterThanOrEqual(10.5);
    await page.context().close();
  });

  it('are those of the filters, by another library, where the axes say; and what is marked lies where it should', async () => {
    const desk = await deskOf('log-179', (target) => ({
      ...manyOutputs(target),
      realisations: target.realisations.filter(({ id }) => id === 'cookbook-48k'),
    }));
    const { recipe, html } = fitted(anySlots(await rigOf24(), 1), desk);
    const mix = recipe.mixes[0] as RecipeMix;
    expect(new Set(mix.filters.map(({ type }) => type))).toEqual(new Set(['highpass', 'peaking', 'lowpass']));
    const { page } = await open(await write(html), { viewport: { width: 1600, height: 900 } });
    const { panels, marks, diamonds } = await pictureOf(page);
    const [whole, close] = panels as [Panel, Panel];
    const scales = [scalesOf(whole), scalesOf(close)] as const;
    const at = [
      [25, 40, 80, 300, 1000, 5000, 10000, 14000, 19000],
      [12100, 13000, 14500, 16000, 17500, 18500, 18655.6, 18900, 19000, 19100, 19374.1, 19900],
    ] as const;
    for (const [index, { set }] of panels.entries()) {
      const { x, y } = scales[index] as (typeof scales)[number];
      const frequenciesHz = at[index] ?? [];
      levelsDb(mix, frequenciesHz).forEach((levelDb, each) => {
        const hz = frequenciesHz[each] ?? 0;
        const off = distance(set, [x(hz), y(levelDb)]);
        expect([hz, off < toleranceUnits, off]).toEqual([hz, true, off]);
        // A curve that is drawn half a dB higher or lower would be noticed where it is flat.
        if (hz === 1000 || hz === 12100) expect(distance(set, [x(hz), y(levelDb + 0.5)])).toBeGreaterThan(1);
      });
    }

    const [onWhole, onClose] = scales;
    const { limits, keepLowHz, keepHighHz } = mix.guard ?? expect.fail('no guard');
    const near = (found: number | undefined, wanted: number) => {
      expect(Math.abs((found ?? Number.NaN) - wanted)).toBeLessThan(toleranceUnits);
    };
    // 19 kHz +-100 Hz (ITU-R BS.450 has the pilot; the window is the default).
    expect([whole.pilot.length, close.pilot.length]).toEqual([1, 1]);
    near(close.pilot[0]?.left, onClose.x(18900));
    near(close.pilot[0]?.right, onClose.x(19100));
    near(whole.pilot[0]?.left, onWhole.x(18900));
    expect(whole.keep).toHaveLength(1);
    near(whole.keep[0]?.top, onWhole.y(-limits.keepLossAtMostDb));
    near(whole.keep[0]?.left, onWhole.x(keepLowHz));
    near(whole.keep[0]?.right, onWhole.x(keepHighHz));
    expect(close.wanted).toHaveLength(1);
    near(close.wanted[0]?.top, onClose.y(-limits.pilotAttenuationAtLeastDb));
    // 15 kHz, as rig-24-mixes.json has it.
    near(close.link[0]?.left, onClose.x(15000));

    // The target: 179 points in equal ratios from 26 Hz to 21.7 kHz.
    const ladder = Array.from({ length: 179 }, (_, index) => 26 * (21700 / 26) ** (index / 178));
    const shown = ladder.filter((hz) => hz >= 12000 && hz <= 20000);
    const drawn = marks
      .filter((data) => (data.match(/M/g)?.length ?? 0) === shown.length)
      .map((data) => [...data.matchAll(/M([\d.]+),/g)].map(([, x]) => Number(x)));
    expect(drawn).toHaveLength(1);
    shown.forEach((hz, index) => {
      near(drawn[0]?.[index], onClose.x(hz));
    });
    const bells = mix.filters.filter(({ type }) => type === 'peaking');
    expect(diamonds).toHaveLength(bells.length);
    for (const [index, { left, right }] of diamonds.entries()) {
      near((left + right) / 2, onClose.x(bells[index]?.set.frequencyHz ?? 0));
    }
    await page.context().close();
  });
});
