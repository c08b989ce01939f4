import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './installed.js';
import { accessibilityFaults, overflow, screens, useBrowser } from './look.js';
import { shows } from './shows.js';

const { write, open } = useBrowser();
const names = ['demo', 'many', 'legs', 'graphic', 'intents'];
const paths = new Map<string, string>();

const pathOf = (name: string): string => paths.get(name) ?? '';

beforeAll(async () => {
  if (!chromiumPath) return;
  const all = await shows();
  for (const name of names) paths.set(name, await write(all[name]?.html ?? expect.fail(name)));
});

const unfold = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const fold of document.querySelectorAll('details')) fold.open = true;
  });

describe.skipIf(!chromiumPath)('what pages are looked at with', () => {
  const broken = `<!DOCTYPE html><html><head><title></title></head><body>
<pre style="white-space:pre">${'wide '.repeat(100)}</pre><p style="color:#aaa;background:#fff">pale</p>
<div style="width:50px;overflow:hidden"><img src="https://192.0.2.7/pixel.png"></div>
<figure><svg viewBox="0 0 100 20"><text x="0" y="15">one</text><text x="5" y="15">two</text><text x="90" y="15">out</text></svg></figure>
<script>nothing()</script></body></html>`;

  it('finds what is wrong with a page where something is', async () => {
    const { page, faults } = await open(await write(broken));
    expect((await overflow(page)).map((fault) => fault.split(/ \d|:/)[0])).toEqual([
      'page',
      'cut or sticking out',
      'out of its picture',
      'over each other',
    ]);
    const rules = (await accessibilityFaults(page)).map((fault) => fault.split(':')[0]);
    expect(rules).toEqual(expect.arrayContaining(['color-contrast', 'document-title', 'image-alt']));
    expect(faults.join('\n')).toMatch(/request: https:\/\/192\.0\.2\.7\/pixel\.png/);
    expect(faults.join('\n')).toMatch(/error: ReferenceError: nothing is not defined/);
    await page.context().close();
  });
});

describe.skipIf(!chromiumPath).each(names)('the sheet of %s', (name) => {
  it('fits every screen with everything unfolded, also with text twice as large', async () => {
    const { page, faults } = await open(pathOf(name));
    await unfold(page);
    for (const [screen, viewport] of Object.entries(screens)) {
      await page.setViewportSize(viewport);
      // WCAG 2.2, success criterion 1.4.4: text may be made twice as large.
      for (const size of ['100%', '200%']) {
        await page.evaluate((fontSize) => {
          document.documentElement.style.fontSize = fontSize;
        }, size);
        expect([screen, size, await overflow(page)]).toEqual([screen, size, []]);
      }
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('has nothing that axe-core finds fault with, by day and by night', async () => {
    const { page, faults } = await open(pathOf(name));
    await unfold(page);
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      const isDark = await page.evaluate(() => matchMedia('(prefers-color-scheme: dark)').matches);
      expect(isDark).toBe(colorScheme === 'dark');
      expect([colorScheme, await accessibilityFaults(page)]).toEqual([colorScheme, []]);
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
