import { describe, expect, it } from 'vitest';
import type { Recipe } from '../../src/model/recipe.js';
import { chromiumPath } from './installed.js';
import { overflow, screens, useBrowser } from './look.js';
import { atOnce, demo, deskOf, fitted, sheetOf } from './shows.js';

const { write, open } = useBrowser();

/** Texts as somebody may type or paste them, or send them on purpose, and as a page must show them. */
const texts: readonly (readonly [text: string, shown: string])[] = [
  ['<script>alert(1)</script>', '<script>alert(1)</script>'],
  ['"><img src=x onerror=alert(2)>', '"><img src=x onerror=alert(2)>'],
  ["' autofocus onfocus='alert(3)", "' autofocus onfocus='alert(3)"],
  ['</style></script></title><h1>', '</style></script></title><h1>'],
  [']]><!-- &amp; &lt; <![CDATA[', ']]><!-- &amp; &lt; <![CDATA['],
  ['one\r\ntwo\tthree', 'one\\u{d}\\u{a}two\\u{9}three'],
  ['\u202egnihton\u202c', '\\u{202e}gnihton\\u{202c}'],
  ['\u2067\u200fdriht\u2069\ufeff', '\\u{2067}\\u{200f}driht\\u{2069}\\u{feff}'],
  ['להקה 12', 'להקה 12'],
  ['👩‍🎤👨‍👩‍👧‍👦 क्‍ष', '👩‍🎤👨‍👩‍👧‍👦 क्‍ष'],
  ['\u0007\u001b[31mred\u009b2J', '\\u{7}\\u{1b}[31mred\\u{9b}2J'],
  ['W'.repeat(300), 'W'.repeat(300)],
  [`${'x'.repeat(80)}/${'0123456789'.repeat(22)}`, `${'x'.repeat(80)}/${'0123456789'.repeat(22)}`],
];

/** A recipe in which every text that comes from a file or a command line is one of those. */
const spoilt = (recipe: Recipe, text: string): Recipe => ({
  ...recipe,
  rig: { title: text },
  target: { ...recipe.target, title: text },
  mixes: recipe.mixes.map((mix) => ({
    ...mix,
    name: text,
    system: text,
    reason: mix.treatment === 'protect' ? mix.reason : text,
    filters: mix.filters.map((placed) => ({
      ...placed,
      slot: text,
      role: text,
      steps: Object.fromEntries(
        Object.entries(placed.steps).map(([knob, position]) => [knob, { ...position, display: text }]),
      ),
    })),
    guard: mix.guard && {
      ...mix.guard,
      byRealisation: mix.guard.byRealisation.map((each) => ({ ...each, id: text })),
    },
    missing: [{ role: text, type: 'notch', why: 'no-place' }],
  })),
  problems: [{ code: 'x', path: text, message: text, source: text }],
  assumptions: [{ code: 'x', path: text, message: text }],
});

const desk = await deskOf('two-legs');
const { recipe } = fitted(
  { ...demo, mixes: demo.mixes.filter(({ outputs }) => outputs[0] === 1 || outputs[0] === 13) },
  desk,
  atOnce,
);

const pageOf = (text: string): string =>
  sheetOf(spoilt(recipe, text), desk, {
    venue: text,
    date: text,
    inputs: [{ name: text, sha256: text }],
    jsonCommand: text,
  });

/** Where a text must stand, word for word and nothing else. */
const places = [
  'h1',
  'header p bdi',
  '.mixes .name > bdi:first-child',
  '.value bdi',
  '.filters h3 bdi:first-of-type',
  'table.ways th[scope=row] bdi',
  '#leave-alone li bdi:first-of-type',
  '#origin dt:first-of-type',
  '#origin dd:first-of-type',
  '#push pre:first-of-type',
];

describe.skipIf(!chromiumPath)('text from outside on a sheet', () => {
  it('is shown as text wherever it stands, runs nothing, and sticks out of no screen', async () => {
    const path = await write(pageOf('plain'));
    const { page, faults } = await open(path);
    const elements = () =>
      page.evaluate(() =>
        [...document.querySelectorAll(':not(pre span)')].map(({ tagName }) => tagName).join(),
      );
    const plain = await elements();
    for (const [text, shown] of texts) {
      await write(pageOf(text), path);
      await page.reload();
      // Nothing of it became an element (words of a command are kept whole by one each).
      expect(await elements()).toBe(plain);
      const found = await page.evaluate(
        (selectors) =>
          selectors.map((selector) => [selector, document.querySelector(selector)?.textContent ?? null]),
        places,
      );
      expect(found).toEqual(places.map((selector) => [selector, shown]));
      expect(await page.title()).toBe([shown, shown, shown].join(', ').replaceAll(/\s+/g, ' '));
      expect(await page.locator('.mixes input').first().getAttribute('aria-label')).toBe(`1, ${shown}`);
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll('details')) fold.open = true;
      });
      for (const viewport of [screens.phone, screens.narrow]) {
        await page.setViewportSize(viewport);
        expect([text, viewport.width, await overflow(page)]).toEqual([text, viewport.width, []]);
      }
      await page.setViewportSize({ width: 703, height: 900 });
      await page.emulateMedia({ media: 'print' });
      expect([text, 'paper', await overflow(page)]).toEqual([text, 'paper', []]);
      await page.emulateMedia({ media: 'screen' });
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('turns nothing round that stands beside it, whichever way it is written itself', async () => {
    const { page } = await open(await write(pageOf('להקה 12')));
    // Output before name, and the words of the link after the system's name, as they are for names from left to right.
    const lefts = await page.evaluate(() => {
      const left = (element: Element | null | undefined) =>
        element?.getBoundingClientRect().left ?? Number.NaN;
      const item = document.querySelector('.mixes li');
      return {
        outputs: [...(item?.querySelectorAll('.output') ?? [])].map(left),
        direction: getComputedStyle(document.querySelector('.mixes li') as Element).direction,
        slot: (() => {
          const heading = document.querySelector('.filters h3') as Element;
          const range = document.createRange();
          range.selectNodeContents(heading.firstChild as Node);
          return [range.getBoundingClientRect().left, left(heading.querySelector('bdi'))];
        })(),
      };
    });
    expect(lefts.direction).toBe('ltr');
    expect(lefts.outputs[0]).toBeLessThan(lefts.outputs[1] as number);
    expect(lefts.slot[0]).toBeLessThan(lefts.slot[1] as number);
    await page.context().close();
  });
});
