import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { DOMParser as XmlParser } from '@xmldom/xmldom';
import { XMLValidator } from 'fast-xml-parser';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { svg } from '../../src/exporters/svg.js';
import { chromiumPath } from '../browser/installed.js';
import { overflow, screens, useBrowser } from '../browser/look.js';
import { anySlots, atOnce, demo, deskOf, fitted, type Show } from '../browser/shows.js';
import { shipped } from '../targets/shipped.js';

const pictureOf = ({ recipe, desk }: Show): string => {
  const content = svg.content(recipe, { target: desk.target, desk });
  if (!content.ok || typeof content.value !== 'string') throw new Error('no picture');
  return content.value;
};

describe.each([...shipped.values()].map(({ id }) => id))('pictures for the shipped target %s', (id) => {
  it('are well-formed, stand alone, and have the same bytes each time', async () => {
    const show = fitted(anySlots(demo, 2), await deskOf(id), atOnce);
    const picture = pictureOf(show);
    expect(pictureOf(show)).toBe(picture);
    expect(XMLValidator.validate(picture)).toBe(true);
    const read = new XmlParser({
      onError: (level, message) => {
        throw new Error(`${level}: ${message}`);
      },
    }).parseFromString(picture, 'image/svg+xml').documentElement;
    // W3C SVG 1.1, section 5.1.2, and the elements of HTML and SVG that run or load something.
    expect(read?.namespaceURI).toBe('http://www.w3.org/2000/svg');
    expect(read?.getElementsByTagName('path').length).toBeGreaterThan(10);
    for (const name of ['script', 'style', 'image', 'use', 'a', 'foreignObject']) {
      expect(read?.getElementsByTagName(name).length).toBe(0);
    }
    expect(picture).not.toMatch(/ (?:href|xlink:href|style|on\w+|id)=|url\(|NaN|Infinity|undefined/);
    // Coordinates in tenths of a unit: longer numbers only cost bytes.
    expect(picture).not.toMatch(/ (?:d|x|y|width|height|viewBox)="[^"]*\.\d\d/);
  });
});

const { browser, open, write } = useBrowser();

const resvgWasm = createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm');
let started: Promise<void> | undefined;

interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

const byResvg = async (picture: string, width: number): Promise<Pixels> => {
  started ??= readFile(resvgWasm).then((wasm) => initWasm(wasm));
  await started;
  return PNG.sync.read(
    Buffer.from(new Resvg(picture, { fitTo: { mode: 'width', value: width } }).render().asPng()),
  );
};

const byBrowser = async (picture: string, { width, height }: Pixels): Promise<Pixels> => {
  const page = await browser().newPage({ viewport: { width, height } });
  await page.setContent(
    `<body style="margin:0">${picture.replace('<svg ', `<svg width="${width}" height="${height}" preserveAspectRatio="none" style="display:block" `)}`,
  );
  const image = PNG.sync.read(await page.screenshot());
  await page.close();
  return image;
};

/** Of the pixels that may differ. What was seen: none; without a curve 0.09 % and more. */
const mostShare = 0.0003;

/** The share of pixels that differ by a fifth of what there is between black and white, smoothed edges left out. */
const differing = (one: Pixels, other: Pixels): number =>
  pixelmatch(one.data, other.data, undefined, one.width, one.height, { threshold: 0.2 }) /
  (one.width * one.height);

describe.skipIf(!chromiumPath)('pictures by two renderers, Chromium and resvg', () => {
  // Letters are left out: fonts differ from program to program.
  const withoutWords = (picture: string) => picture.replaceAll(/<text[^>]*>[^<]*<\/text>/g, '');

  it.each([
    ['cut-section', 4],
    ['log-179', 1],
    ['graphic-31', 1],
  ])('are the same, for %s', async (id, mixes) => {
    const picture = withoutWords(pictureOf(fitted(anySlots(demo, mixes), await deskOf(id))));
    const resvg = await byResvg(picture, 720);
    const chromium = await byBrowser(picture, resvg);
    expect([chromium.width, chromium.height]).toEqual([resvg.width, resvg.height]);
    const share = differing(resvg, chromium);
    expect([share < mostShare, share]).toEqual([true, share]);
    // Without one curve it is another picture.
    const spoilt = picture.replace(/<path [^>]*class="stroke-set"[^>]*>(?:<\/path>)?/, '');
    expect(spoilt.length).toBeLessThan(picture.length);
    const lacking = differing(resvg, await byBrowser(spoilt, resvg));
    expect([lacking > mostShare, lacking]).toEqual([true, lacking]);
  });
});

describe.skipIf(!chromiumPath)('words of a picture', () => {
  it.each([
    'W'.repeat(200),
    'MAWWMM '.repeat(28),
    '鼓手'.repeat(60),
    'Thistle, Plover and all voices of the late set',
  ])('keep clear of each other and of its edge where mixes are called %s', async (name) => {
    const mixes = demo.mixes.map((mix) => ({ ...mix, name }));
    const show = fitted({ ...demo, title: name, mixes }, await deskOf('cut-section'), atOnce);
    const path = await write(`<!DOCTYPE html><body><figure>${pictureOf(show)}</figure>`);
    const { page } = await open(path, { viewport: screens.desktop });
    expect(await overflow(page)).toEqual([]);
    await page.context().close();
  });
});
