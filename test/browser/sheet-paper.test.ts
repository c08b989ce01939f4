import { execFileSync } from 'node:child_process';
import { PNG } from 'pngjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, hasPoppler } from './installed.js';
import { overflow, useBrowser } from './look.js';
import { groupsOf } from './oracle.js';
import { atOnce, demo, deskOf, fitted, fittedIntents, manyOutputs, type Show, told } from './shows.js';

const { write, open } = useBrowser();
const names = ['demo', 'crowd', 'intents'];
let all: Readonly<Record<string, Show>> = {};

/** So many mixes that get the same that they take more than a page. */
const crowd = {
  ...demo,
  mixes: Array.from({ length: 64 }, (_, index) => ({
    name: `Choir, stand ${index + 1}`,
    outputs: [index + 1],
    feeds: 'stage-fm',
  })),
};

beforeAll(async () => {
  if (!chromiumPath || !hasPoppler) return;
  all = {
    demo: fitted(demo, await deskOf('cut-section')),
    crowd: fitted(crowd, await deskOf('floats', manyOutputs), atOnce),
    intents: await fittedIntents(await deskOf('cut-section')),
  };
});

/** What is between the margins of 12 mm, in CSS pixels (96 to the inch): ISO 216, and the US Letter of ANSI Y14.1. */
const contentWidth = { A4: Math.floor(((210 - 24) / 25.4) * 96), Letter: Math.floor((8.5 - 24 / 25.4) * 96) };

const pagesOf = (pdf: Buffer): readonly string[] =>
  execFileSync('pdftotext', ['-enc', 'UTF-8', '-', '-'], { input: pdf }).toString().split('\f').slice(0, -1);

/** Without blanks and hyphens: where lines end, pdftotext takes them for its own to drop. */
const squeezed = (text: string): string => text.replaceAll(/[\s-]/g, '');

describe.skipIf(!chromiumPath || !hasPoppler).each(names)('the sheet of %s on paper', (name) => {
  it.each(['A4', 'Letter'] as const)(
    '%s: loses nothing, and each group has its page and its head',
    async (format) => {
      const { recipe, html } = all[name] as Show;
      const { page, faults } = await open(await write(html), { colorScheme: 'dark' });
      const pdf = await page.pdf({ format, printBackground: false });
      const pages = pagesOf(pdf).map(squeezed);

      const first = pages[0] ?? '';
      const { length: toDial } = groupsOf(recipe).flat();
      for (const text of [
        recipe.rig.title ?? '',
        recipe.target.title,
        `${toDial} mix`,
        'Mute, or have performers take their in-ears out',
      ]) {
        expect(first).toContain(squeezed(text));
      }

      const head = squeezed([recipe.rig.title, recipe.target.title].join('·'));
      const headings = groupsOf(recipe).map((mixes, index) =>
        squeezed(
          `${index + 1}. ${mixes.length === 1 ? 'Dial for one mix' : `Dial once, copy to ${mixes.length} mixes`}`,
        ),
      );
      const begins = headings.map((heading) => pages.findIndex((text) => text.includes(heading)));
      expect(begins[0]).toBe(0);
      expect(new Set(begins).size).toBe(headings.length);
      const ends = pages.findLastIndex((text) => text.includes('Pilotoverprogramme:'));
      pages.slice(0, Math.max(...begins, ends) + 1).forEach((text, index) => {
        const top = text.slice(text.indexOf(head));
        expect(index === 0 || text.startsWith(head)).toBe(true);
        for (const each of [recipe.target.id, told.venue ?? '', told.date ?? ''])
          expect(top.slice(0, 250)).toContain(squeezed(each));
      });

      await page.setViewportSize({ width: contentWidth[format], height: 900 });
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      expect(await overflow(page)).toEqual([]);
      await page.evaluate(() => {
        // Told to those who do not see what stands beside it.
        for (const each of document.querySelectorAll('.unseen')) each.remove();
      });
      const words = String(await page.evaluate('document.body.innerText')).split(/\s+/);
      const printed = pages.join('');
      expect(words.length).toBeGreaterThan(300);
      expect(words.filter((word) => !printed.includes(squeezed(word)))).toEqual([]);
      expect(faults).toEqual([]);
      await page.context().close();
    },
  );
});

describe.skipIf(!chromiumPath || !hasPoppler)('ink', () => {
  it('is on white paper, though the screen was dark', async () => {
    const { page } = await open(await write((all.demo as Show).html), { colorScheme: 'dark' });
    const pdf = await page.pdf({ format: 'A4', printBackground: false });
    const image = PNG.sync.read(
      execFileSync('pdftoppm', ['-r', '30', '-png', '-f', '1', '-l', '1', '-'], { input: pdf }),
    );
    const lightness = Array.from(
      { length: image.width * image.height },
      (_, index) => image.data[index * 4] ?? 0,
    );
    expect([lightness[0], lightness.at(-1)]).toEqual([255, 255]);
    const share = (isSo: (value: number) => boolean) => lightness.filter(isSo).length / lightness.length;
    // As a page of text has it: common practice, no source.
    expect(share((value) => value > 240)).toBeGreaterThan(0.75);
    expect(share((value) => value < 128)).toBeGreaterThan(0.005);
    // What is wanted as text is dark enough to be read.
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const inks = await page.evaluate(() =>
      ['body', '.verdict', '.caution', 'h2', '.knobs .value', '.quiet'].map(
        (selector) => getComputedStyle(document.querySelector(selector) as Element).color,
      ),
    );
    for (const ink of inks) {
      for (const part of ink.match(/\d+/g)?.map(Number) ?? [255]) expect(part).toBeLessThan(0xa5);
    }
    await page.context().close();
  });
});
