/// <reference lib="dom" />
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type axe from 'axe-core';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { chromiumPath } from './installed.js';

/** A browser of one's own, to be closed by whoever asked for it. */
export const launchChromium = (): Promise<Browser> =>
  chromium.launch({ executablePath: chromiumPath ?? '', args: ['--no-sandbox'] });

/** A page that is looked at, and all that went wrong with it: errors, what its policy stopped, what it asked of a network. */
export interface Look {
  readonly page: Page;
  readonly faults: readonly string[];
}

/** What a test file looks at pages with: one browser, started before its tests and closed after them. */
export interface Looking {
  /** Writes a page to a file of its own, or in place of another. */
  write(html: string, path?: string): Promise<string>;
  /** Opens a file as somebody would that got it by mail; the same name is the same profile, which remembers. */
  open(path: string, how?: BrowserContextOptions): Promise<Look>;
  browser(): Browser;
}

/** Screens that pages are looked at on; the narrowest is what WCAG 2.2 asks for (success criterion 1.4.10, reflow). */
export const screens = {
  narrow: { width: 320, height: 640 },
  phone: { width: 360, height: 740 },
  tablet: { width: 768, height: 1024 },
  desktop: { width: 1280, height: 900 },
} as const;

const watched = (page: Page, url: string): readonly string[] => {
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') faults.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => faults.push(`error: ${error}`));
  page.on('request', (request) => {
    if (request.url().split('#')[0] !== url) faults.push(`request: ${request.url()}`);
  });
  page.on('dialog', (dialog) => {
    faults.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  return faults;
};

/** Looks at pages with one browser for all tests of a file. */
export const useBrowser = (): Looking => {
  let browser: Browser | undefined;
  let folder = '';
  let written = 0;
  beforeAll(async () => {
    if (!chromiumPath) return;
    folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    if (folder !== '') await rm(folder, { recursive: true, force: true });
  });
  const started = (): Browser => {
    if (!browser) throw new Error('no browser was started');
    return browser;
  };
  return {
    browser: started,
    write: async (html, path = join(folder, `page-${written++}.html`)) => {
      await writeFile(path, html);
      return path;
    },
    open: async (path, how = {}) => {
      const page = await (await started().newContext({ viewport: screens.phone, ...how })).newPage();
      const url = pathToFileURL(path).href;
      const faults = watched(page, url);
      await page.goto(url);
      return { page, faults };
    },
  };
};

/** Puts in the place of each reference what it is to: a page tells once what its pictures have in common. */
export const spellOut = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const use of document.querySelectorAll('use')) {
      const part = document.querySelector(use.getAttribute('href') ?? 'none');
      if (!part) throw new Error(`nothing is called ${use.getAttribute('href')}`);
      use.replaceWith(part.cloneNode(true));
    }
  });

/**
 * What sticks out of the page, is cut off, or lies over other words: as sentences. Runs in the page, so it stands alone.
 */
const findOverflow = (): readonly string[] => {
  const found: string[] = [];
  const wide = document.documentElement;
  const name = (element: Element) =>
    `${element.tagName.toLowerCase()}${element.className ? `.${element.getAttribute('class')}` : ''} "${element.textContent?.trim().slice(0, 40)}"`;
  if (wide.scrollWidth > wide.clientWidth) found.push(`page ${wide.scrollWidth} > ${wide.clientWidth}`);
  for (const element of document.body.querySelectorAll('*')) {
    if (element.closest('.unseen, script') || element.tagName === 'BR') continue;
    const box = element.getBoundingClientRect();
    if (box.width === 0) continue;
    const inSvg = element.closest('svg');
    if (!inSvg && (box.right > wide.clientWidth + 0.5 || box.left < -0.5))
      found.push(`beyond: ${name(element)}`);
    if (
      !inSvg &&
      element.scrollWidth > element.clientWidth + 1 &&
      getComputedStyle(element).display !== 'inline'
    ) {
      found.push(`cut or sticking out: ${name(element)}`);
    }
    const svg = element.tagName === 'text' && inSvg?.closest('figure')?.getBoundingClientRect();
    if (svg && (box.left < svg.left - 1 || box.right > svg.right + 1 || box.bottom > svg.bottom + 1)) {
      found.push(`out of its picture: ${name(element)}`);
    }
  }
  for (const figure of document.querySelectorAll('figure > svg')) {
    const texts = [...figure.querySelectorAll('text')].map((text) => ({
      text,
      box: text.getBoundingClientRect(),
    }));
    texts.forEach((one, index) => {
      for (const other of texts.slice(index + 1)) {
        const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        // Boxes of lines are higher than the letters in them.
        if (across > 0.5 && down > 0.4 * one.box.height)
          found.push(`over each other: ${name(one.text)} ${name(other.text)}`);
      }
    });
  }
  return found;
};

export const overflow = async (page: Page): Promise<readonly string[]> => {
  await spellOut(page);
  return page.evaluate(findOverflow);
};

const axeSource = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Success criteria A and AA of WCAG 2.0, 2.1 and 2.2, and what is good practice beside. */
const axeTags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What axe-core finds wrong: the rule, and where. It is put in from outside, which no policy of the page stops. */
export const accessibilityFaults = async (page: Page): Promise<readonly string[]> => {
  await page.evaluate(axeSource);
  const { violations, passes } = await page.evaluate(async (tags): Promise<axe.AxeResults> => {
    const { axe: loaded } = globalThis as unknown as { axe: typeof axe };
    return loaded.run(document, { runOnly: tags, resultTypes: ['violations'] });
  }, axeTags);
  if (passes.length === 0) throw new Error('axe-core looked at nothing');
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')} ${failureSummary}`),
  );
};
