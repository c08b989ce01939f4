import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './installed.js';
import { accessibilityFaults, overflow, screens, useBrowser } from './look.js';
import { type Show, shows } from './shows.js';

const { write, open } = useBrowser();
const names = ['demo', 'many', 'legs', 'graphic', 'top', 'intents'];
const paths = new Map<string, string>();

const pathOf = (name: string): string => paths.get(name) ?? '';

beforeAll(async () => {
  if (!chromiumPath) return;
  const all: Readonly<Record<string, Show>> = await shows();
  expect(Object.keys(all)).toEqual(names);
  for (const [name, { html }] of Object.entries(all)) paths.set(name, await write(html));
});

describe.skipIf(!chromiumPath).each(names)('the sheet of %s', (name) => {
  it('fits every screen, also with everything unfolded and text twice as large', async () => {
    for (const [screen, viewport] of Object.entries(screens)) {
      const { page, faults } = await open(pathOf(name), { viewport });
      expect([screen, await overflow(page)]).toEqual([screen, []]);
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll('details')) fold.open = true;
      });
      expect([screen, 'unfolded', await overflow(page)]).toEqual([screen, 'unfolded', []]);
      // WCAG 2.2, success criterion 1.4.4: text may be made twice as large.
      await page.evaluate(() => {
        document.documentElement.style.fontSize = '200%';
      });
      expect([screen, 'large', await overflow(page)]).toEqual([screen, 'large', []]);
      expect(faults).toEqual([]);
      await page.context().close();
    }
  });

  it.each(['light', 'dark'] as const)(
    'has nothing that axe-core finds fault with, %s',
    async (colorScheme) => {
      const { page, faults } = await open(pathOf(name), { colorScheme });
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll('details')) fold.open = true;
      });
      expect(await accessibilityFaults(page)).toEqual([]);
      expect(faults).toEqual([]);
      await page.context().close();
    },
  );
});
