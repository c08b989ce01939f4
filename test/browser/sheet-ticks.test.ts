import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './installed.js';
import { useBrowser } from './look.js';
import { anySlots, atOnce, demo, deskOf, fitted, sheetOf, told } from './shows.js';

const { write, open } = useBrowser();
let [sheet, otherSheet, nextEvening, legs] = ['', '', '', ''];

/** How many boxes are ticked and whether that is kept; when is told behind the count, as the device writes it. */
const statusOf = async (page: Page): Promise<string> => {
  const told = (await page.getByRole('status').textContent()) ?? '';
  expect(/, the last \S/.test(told)).toBe(!told.startsWith('0 '));
  return told.replace(/, the last [^;]+/, '');
};

beforeAll(async () => {
  if (!chromiumPath) return;
  const short = { ...demo, mixes: demo.mixes.slice(0, 4) };
  sheet = await write(fitted(short, await deskOf('cut-section'), atOnce).html);
  // The same mixes on the same desk, but for one name.
  const renamed = { ...short, title: `${short.title}, second night` };
  const { recipe, desk } = fitted(short, await deskOf('cut-section'), atOnce);
  nextEvening = await write(sheetOf(recipe, desk, { ...told, date: 'Friday 27 November' }));
  otherSheet = await write(fitted(renamed, await deskOf('cut-section'), atOnce).html);
  legs = await write(
    fitted(anySlots({ ...demo, mixes: demo.mixes.slice(3, 5) }, 2), await deskOf('two-legs'), atOnce).html,
  );
});

describe.skipIf(!chromiumPath)('ticks of a sheet', () => {
  it('are set by keyboard and by click on box or name, counted, and still there after a reload', async () => {
    const { page, faults } = await open(sheet);
    const boxes = page.getByRole('checkbox');
    expect(await boxes.count()).toBe(4);
    expect(await statusOf(page)).toBe('0 of 4 ticked; kept on this device');
    // Links to the groups come first.
    for (let tabs = 0; tabs < 10; tabs++) {
      await page.keyboard.press('Tab');
      if (await boxes.first().evaluate((box) => box === document.activeElement)) break;
    }
    await page.keyboard.press('Space');
    expect(await statusOf(page)).toBe('1 of 4 ticked; kept on this device');
    await page.getByText('Wren and Magpie, backing vocals').first().click();
    await boxes.nth(2).click();
    await boxes.nth(2).click();
    const ticked = async () =>
      boxes.evaluateAll((all) => all.map((box) => (box as HTMLInputElement).checked));
    // A busy browser may hand on what was stored a moment late.
    const reloaded = async () => {
      await page.reload();
      return ticked();
    };
    const before = await ticked();
    expect(before.filter(Boolean)).toHaveLength(2);
    expect(before[0]).toBe(true);
    await expect.poll(reloaded).toEqual(before);
    expect(await statusOf(page)).toBe('2 of 4 ticked; kept on this device');
    const other = await page.context().newPage();
    await other.goto(`file://${otherSheet}`);
    expect(await statusOf(other)).toBe('0 of 4 ticked; kept on this device');
    // What one sheet keeps takes nothing from another.
    await other.getByRole('checkbox').last().click();
    expect(await reloaded()).toEqual(before);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('begin anew on another evening, and are cleared only where that is confirmed', async () => {
    const { page } = await open(sheet);
    const clear = page.getByRole('button', { name: 'Clear all ticks' });
    expect(await clear.isVisible()).toBe(false);
    await page.getByRole('checkbox').first().click();
    const another = await page.context().newPage();
    await another.goto(`file://${nextEvening}`);
    expect(await statusOf(another)).toBe('0 of 4 ticked; kept on this device');
    // A question is no fault here.
    page.removeAllListeners('dialog');
    page.once('dialog', (dialog) => dialog.dismiss());
    await clear.click();
    expect(await statusOf(page)).toBe('1 of 4 ticked; kept on this device');
    page.once('dialog', (dialog) => dialog.accept());
    await clear.click();
    const reloaded = async () => {
      await page.reload();
      return statusOf(page);
    };
    await expect.poll(reloaded).toBe('0 of 4 ticked; kept on this device');
    await page.context().close();
  });

  it('are apart for legs that are dialled apart, each named by its output and its mix', async () => {
    const { page, faults } = await open(legs);
    const boxes = page.getByRole('checkbox');
    // Mixes 7/8 and 9 of the demo's rig.
    expect(await boxes.evaluateAll((all) => all.map((box) => box.getAttribute('aria-label')))).toEqual([
      '7, Wren and Magpie, backing vocals',
      '8, Wren and Magpie, backing vocals',
      null,
    ]);
    await boxes.nth(1).click();
    const reloaded = async () => {
      await page.reload();
      return boxes.evaluateAll((all) => all.map((box) => (box as HTMLInputElement).checked));
    };
    await expect.poll(reloaded).toEqual([false, true, false]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('are all that is missing without scripts', async () => {
    const [{ page: with_ }, { page: without, faults }] = [
      await open(sheet),
      await open(sheet, { javaScriptEnabled: false }),
    ];
    const textOf = async (page: typeof without) =>
      String(await page.evaluate('document.body.innerText')).replaceAll(/\s+/g, ' ');
    expect(await textOf(without)).toBe(
      (await textOf(with_)).replace(
        '0 of 4 ticked; kept on this device',
        'Boxes are not remembered: this browser runs no scripts here.',
      ),
    );
    await without.getByRole('checkbox').first().click();
    expect(await without.getByRole('checkbox').first().isChecked()).toBe(true);
    expect(faults).toEqual([]);
    await with_.context().close();
    await without.context().close();
  });

  it.each(['getItem', 'setItem'])('are told not to be kept where storage refuses, at %s', async (refused) => {
    const { page, faults } = await open(sheet);
    await page.addInitScript((name) => {
      Object.defineProperty(Storage.prototype, name, {
        value: () => {
          throw new DOMException('refused', 'SecurityError');
        },
      });
    }, refused);
    await page.reload();
    await page.getByRole('checkbox').first().click();
    expect(await page.getByRole('checkbox').first().isChecked()).toBe(true);
    expect(await statusOf(page)).toBe('1 of 4 ticked; not kept: this browser stores nothing here');
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('survive what somebody else left in their place', async () => {
    const { page, faults } = await open(sheet);
    for (const left of [
      '{',
      'null',
      '7',
      '[1]',
      '{"ticked":7,"lastTick":"x"}',
      '{"ticked":[null,{"b":2},"0:1/2"]}',
    ]) {
      await page.evaluate((text) => {
        localStorage.setItem(`bandwright ${document.documentElement.dataset.page}`, text);
      }, left);
      await page.reload();
      expect(await page.getByRole('status').textContent()).toMatch(/^[01] of 4 ticked/);
    }
    const reloaded = async () => {
      await page.reload();
      return page.getByRole('status').textContent();
    };
    await expect.poll(reloaded).toMatch(/^1 of 4 ticked/);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
