// Makes the picture of a sheet that README.md shows, of the demonstration's rig: node .ci/picture.mjs, after a build. It
// needs Chromium; nothing else does, so that the picture is kept with the source.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const root = resolve(import.meta.dirname, '..');
const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path));
if (!executablePath) throw new Error('Chromium is not installed here (Debian: apt-get install chromium).');

/** Where the picture is kept. */
const picture = process.argv[2] ?? join(root, 'src/demo-sheet.png');
const folder = mkdtempSync(join(tmpdir(), 'bandwright-picture-'));
try {
  const page = join(folder, 'show.html');
  const told = ['--target', 'cut-section', '--format', 'sheet', '--output', page];
  const rig = join(root, 'src/cli/demo-rig.json');
  execFileSync(process.execPath, [join(root, 'dist/main.cjs'), 'recipe', rig, ...told], { stdio: 'ignore' });
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'], timeout: 60_000 });
  const context = await browser.newContext({
    viewport: { width: 860, height: 760 },
    colorScheme: 'light',
    locale: 'en-GB',
    timezoneId: 'UTC',
  });
  await context.clock.setFixedTime('2026-11-26T16:05:00Z');
  const sheet = await context.newPage();
  await sheet.goto(pathToFileURL(page).href);
  await sheet.locator('input[type=checkbox]').first().check();
  await sheet.mouse.move(0, 0);
  await sheet.evaluate(() => document.activeElement?.blur());
  await sheet.screenshot({ path: picture });
  await browser.close();
} finally {
  rmSync(folder, { recursive: true });
}
