import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Where the systems this runs on keep Chromium; undefined where it is not installed. */
export const chromiumPath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) =>
  existsSync(path),
);

/** Whether poppler's readers of PDF are installed. */
export const hasPoppler = spawnSync('pdftotext', ['-v']).error === undefined;

/** Runs once, before all tests: tells what is not tried here. */
export default function tellWhatIsMissing(): void {
  const missing = [
    ...(chromiumPath
      ? []
      : [
          'Nothing is tried in a browser: Chromium is not installed here (Debian: apt-get install chromium).',
        ]),
    ...(chromiumPath && !hasPoppler
      ? ['Paper is not looked at: pdftotext is not installed here (Debian: apt-get install poppler-utils).']
      : []),
  ];
  for (const line of missing) process.stderr.write(`${line}\n`);
}
