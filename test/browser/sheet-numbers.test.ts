import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './installed.js';
import { spellOut, useBrowser } from './look.js';
import { isRightlyTold, numbersIn, type Told } from './numbers.js';
import { groupsOf, numbersToTell, pictureNumbers } from './oracle.js';
import { type Show, shows, told } from './shows.js';

const { write, open } = useBrowser();
const names = ['demo', 'many', 'legs', 'graphic', 'top', 'intents'];
let all: Readonly<Record<string, Show>> = {};

beforeAll(async () => {
  if (chromiumPath) all = await shows();
});

const showOf = (name: string): Show => all[name] as Show;

/** The words of each element a selector finds, blanks between elements, pictures left out. */
const wordsOf = (page: Page, selector: string): Promise<readonly string[]> =>
  page.locator(selector).evaluateAll((elements) =>
    elements.map((element) => {
      const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
      const texts: string[] = [];
      while (walker.nextNode()) {
        if (!walker.currentNode.parentElement?.closest('svg, script'))
          texts.push(walker.currentNode.textContent ?? '');
      }
      return texts.join(' ').replaceAll(/\s+/g, ' ').trim();
    }),
  );

/** What is told otherwise than it should be; nothing where all numbers are right and none is too many. */
const differences = (shown: readonly string[], expected: readonly Told[]): readonly string[] =>
  shown.length === expected.length && expected.every((each, index) => isRightlyTold(shown[index] ?? '', each))
    ? []
    : [`shown ${shown.join(' ')}`, `instead ${expected.map((each) => JSON.stringify(each)).join(' ')}`];

describe.skipIf(!chromiumPath).each(names)('the numbers on the sheet of %s', (name) => {
  it('are those of the recipe, all of them, and no others', async () => {
    const { recipe, html } = showOf(name);
    const { page } = await open(await write(html));
    const groups = groupsOf(recipe);
    const found: Record<string, readonly string[]> = {};
    for (const part of ['', ' .paper', ' h2', ' .mixes', ' .filters', ' table.choices', ' table.ways']) {
      found[part] = await wordsOf(page, `.group${part}`);
    }
    expect(found['']).toHaveLength(groups.length);
    const lists = await wordsOf(page, '.group .split > div:first-child');
    let [choices, ways] = [0, 0];
    let unnoticed = 0;
    const off = groups.flatMap((group, place) => {
      const parts = numbersToTell(recipe, group, place);
      const numbers = (part: string, index = place) => numbersIn(found[part]?.[index] ?? '');
      const boxes = (isBelow: boolean) => (isBelow === parts.isLong ? parts.mixes : []);
      const dial = [...parts.filters, ...parts.reason, ...parts.guard, ...boxes(true)];
      const paper = [...parts.paper, ...[told.venue, told.date].flatMap((text) => numbersIn(text ?? ''))];
      const whole = [
        ...[...paper, ...parts.head, ...parts.who, ...boxes(false)],
        ...[...dial, ...parts.choices, ...parts.ways],
      ];
      const shown = numbers('');
      // So that this cannot pass in vain: each number with its last digit changed.
      shown.forEach((number, index) => {
        const changed = number.replace(/\d$/, (digit) => String((Number(digit) + 1) % 10));
        if (differences(shown.with(index, changed), whole).length === 0) unnoticed++;
      });
      return [
        ...differences(numbers(' .paper'), paper),
        ...differences(numbers(' h2'), parts.head),
        ...differences(numbers(' .mixes'), parts.mixes),
        ...differences(numbersIn(lists[place] ?? ''), dial),
        ...(parts.choices.length > 0 ? differences(numbers(' table.choices', choices++), parts.choices) : []),
        ...(parts.ways.length > 0 ? differences(numbers(' table.ways', ways++), parts.ways) : []),
        // What is told elsewhere in the group, of which nothing is known here, has no numbers.
        ...differences(shown, whole),
      ];
    });
    expect(off).toEqual([]);
    expect(unnoticed).toBe(0);
    expect([found[' table.choices']?.length, found[' table.ways']?.length]).toEqual([choices, ways]);
    await page.context().close();
  });

  it('are those of the recipe in its pictures, too', async () => {
    const { recipe, desk, html } = showOf(name);
    const { page } = await open(await write(html));
    await spellOut(page);
    const drawn = groupsOf(recipe).filter(([mix]) => mix.filters.length > 0);
    const pictures = await page.locator('figure > svg').evaluateAll((all) =>
      all.map((picture) => ({
        words: [...picture.querySelectorAll('text:not(g[text-anchor] text)')]
          .map((text) => text.textContent)
          .join(' '),
        description: picture.querySelector('desc')?.textContent ?? '',
      })),
    );
    expect(pictures).toHaveLength(drawn.length);
    const off = drawn.flatMap(([mix], index) => {
      const { words, description } = pictureNumbers(mix, desk.target.realisations.length);
      const picture = pictures[index];
      return [
        ...differences(numbersIn(picture?.words ?? ''), words),
        ...differences(numbersIn(picture?.description ?? ''), description),
      ];
    });
    expect(off).toEqual([]);
    await page.context().close();
  });

  it('stand under a verdict that is true, and every mix has its place', async () => {
    const { recipe, html } = showOf(name);
    const { page } = await open(await write(html));
    const { mixes, problems, assumptions } = recipe;
    const left = mixes.filter(({ treatment }) => treatment === 'leave-alone');
    const count = (verdict: string) => mixes.filter(({ guard }) => guard?.verdict === verdict).length;
    const [verdict = ''] = await wordsOf(page, 'header .verdict');
    const says = (pattern: RegExp): number => Number(pattern.exec(verdict)?.[1] ?? 0);
    expect([
      says(/^(\d+) mix/),
      says(/(\d+) GUARD MET/),
      says(/(\d+) FALLS SHORT/),
      says(/(\d+) to leave/),
    ]).toEqual([mixes.length - left.length, count('met'), count('falls-short'), left.length]);
    const missing = mixes.flatMap((mix) => mix.missing);
    for (const role of ['low-cut', 'pilot-cut', 'high-cut']) {
      const isMissing = missing.some((each) => each.role === role);
      expect([role, verdict.includes(`NO ${role.toUpperCase().replace('-', ' ')}`)]).toEqual([
        role,
        isMissing,
      ]);
    }
    const isBad = count('falls-short') + missing.length + problems.length > 0;
    const look = await page.locator('header .verdict').getAttribute('class');
    expect(look).toBe(isBad ? 'verdict bad' : count('met') > 0 ? 'verdict good' : 'verdict');
    expect(await page.locator('header a[href="#problems"]').count()).toBe(problems.length > 0 ? 1 : 0);

    // A box, or one for each leg that is dialled apart; none where nothing is dialled.
    const legs = (outputs: readonly number[]) =>
      recipe.target.stereo === 'legs-separate' ? Math.max(1, outputs.length) : 1;
    const boxes = await page
      .locator('.mixes li')
      .evaluateAll((items) =>
        items.map((item) => [item.querySelector('bdi')?.textContent, item.querySelectorAll('input').length]),
      );
    const dialled = groupsOf(recipe).flat();
    expect(boxes).toEqual(dialled.map((mix) => [mix.name, legs(mix.outputs)]));
    const alone = await wordsOf(page, '#leave-alone li');
    expect(alone.map((words) => left.filter((mix) => words.includes(mix.name)).length)).toEqual(
      left.map(() => 1),
    );
    expect(await page.locator('#leave-alone input').count()).toBe(0);

    for (const [id, list] of [
      ['problems', problems],
      ['assumptions', assumptions],
    ] as const) {
      const [words = ''] = await wordsOf(page, `#${id}`);
      for (const { message } of list) expect(words).toContain(message.replaceAll(/\s+/g, ' '));
    }
    await page.context().close();
  });
});

describe('the oracle of numbers', () => {
  it('takes what is rightly rounded and nothing else', () => {
    expect(numbersIn('-12.0 dB, ±100 Hz; pilot-cut-2 in 3, +0.5 to -1 dBFS, cookbook-48k')).toEqual([
      '-12.0',
      '100',
      '2',
      '3',
      '+0.5',
      '-1',
      '48',
    ]);
    const cents = { value: 28.92, decimals: 1 };
    expect(['28.9', '28.92', '29.0', '29', '28.8'].map((shown) => isRightlyTold(shown, cents))).toEqual([
      true,
      true,
      false,
      false,
      false,
    ]);
    const kilohertz = { value: 18.6556, digits: 4 };
    expect(
      ['18.66', '18.660', '18.656', '18.65', '-18.66'].map((shown) => isRightlyTold(shown, kilohertz)),
    ).toEqual([true, true, false, false, false]);
  });
});
