import { copyFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fixture, projectRoot, runLoaded, scratchFolder } from '../end-to-end/run.js';
import { bell, guarded, lowCut, type Slot, shelf, standingDesk } from '../end-to-end/standing-desk.js';
import { rig } from '../live/recipe-on.js';
import { chromiumPath } from './installed.js';
import { accessibilityFaults, overflow, screens, useBrowser } from './look.js';

const { write, open } = useBrowser();

/** A name as nobody means it: markup, quotes, letters that run the other way, an emoji, length. */
const hostile = `<script>alert("1")</script> 'quoted' & \u05D0\u05D1\u05D2 \u{1F3A4} ${'long'.repeat(30)}`;
/** What no rig may be called, and a command line may say: an override of direction. */
const turned = `\u202E${hostile}`;

const printed = async (...args: readonly string[]): Promise<string> => {
  const { stdout, stderr } = await runLoaded([...args, '--format', 'sheet']);
  if (stdout.length === 0) throw new Error(stderr);
  return stdout.toString();
};

const comparison = async (title: string): Promise<string> => {
  const cwd = await scratchFolder();
  await writeFile(join(cwd, 'show.json'), JSON.stringify({ ...rig, title }));
  return printed(
    'compare',
    join(cwd, 'show.json'),
    '--targets',
    'graphic-31,top-18,four-band',
    '--venue',
    turned,
  );
};

/** Two files of one id go by their paths, which have no room in a picture; one has letters that fill a square. */
const longNames = async (...args: readonly string[]): Promise<string> => {
  const cwd = await scratchFolder();
  const paths = [`${'w'.repeat(90)}.json`, `${'\u754C'.repeat(60)}.json`].map((name) => join(cwd, name));
  for (const path of paths) await copyFile(join(projectRoot, 'targets', 'graphic-31.json'), path);
  return printed(...args, paths.join());
};

const inspection = async (lark: readonly Slot[], ...faults: readonly string[]): Promise<string> => {
  const desk = await standingDesk(guarded, lark, { faults });
  return (await desk.inspect('--format', 'sheet', '--venue', turned)).stdout.toString();
};

const pages: readonly (readonly [name: string, html: () => Promise<string>])[] = [
  ['a trade-off', () => printed('tradeoff', '--target', 'log-179')],
  [
    'a trade-off that reaches nothing',
    () => printed('tradeoff', '--target', 'graphic-31', '--attenuation', '60'),
  ],
  ['a comparison', () => printed('compare', fixture('rig-small.json'))],
  ['a comparison of a show with a hostile name', () => comparison(hostile)],
  ['a check of one grid', () => printed('check', '--target', 'log-179')],
  ['a check of a grid without steps', () => printed('check', '--target', 'floats')],
  ['a check of a grid far off', () => printed('check', '--target', 'graphic-31')],
  [
    'a check of what a screen shows',
    () => printed('check', '--frequencies', '18.67k,19.32k', '--q', '0.4..12'),
  ],
  [
    'a comparison of desks with long names',
    () => longNames('compare', fixture('rig-small.json'), '--targets'),
  ],
  ['a check of grids with long names', () => longNames('check', '--target')],
  ['a check of every grid', () => printed('check')],
  ['an inspection', () => inspection([bell('1', 174, false), bell('2', 170), lowCut, shelf])],
  ['an inspection of what lifts the pilot', () => inspection([shelf])],
  ['an inspection of what is not understood', () => inspection(guarded, 'wrong-type=100%')],
];

describe.skipIf(!chromiumPath).each(pages)('the page of %s', (_, html) => {
  it('fits every screen, by day and by night, runs and asks for nothing, and axe-core finds no fault with it', async () => {
    const { page, faults } = await open(await write(await html()));
    for (const [screen, viewport] of Object.entries(screens)) {
      await page.setViewportSize(viewport);
      await page.goto(page.url());
      expect([screen, await overflow(page)]).toEqual([screen, []]);
      // WCAG 2.2, success criterion 1.4.4: text may be made twice as large.
      await page.evaluate(() => {
        document.documentElement.style.fontSize = '200%';
      });
      expect([screen, 'large', await overflow(page)]).toEqual([screen, 'large', []]);
    }
    for (const viewport of [screens.phone, screens.desktop]) {
      await page.setViewportSize(viewport);
      await page.goto(page.url());
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        expect([colorScheme, await accessibilityFaults(page)]).toEqual([colorScheme, []]);
      }
    }
    expect(faults).toEqual([]);
    expect(await page.locator('script').count()).toBe(0);
    await page.context().close();
  });
});

describe.skipIf(!chromiumPath)('a hostile name', () => {
  it('is shown as text, turned round nothing and never run', async () => {
    const { page, faults } = await open(await write(await comparison(hostile)));
    expect(await page.locator('h1').textContent()).toContain(hostile);
    expect(await page.locator('header').textContent()).toContain(`\\u{202e}${hostile}`);
    expect(await page.locator('script').count()).toBe(0);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
