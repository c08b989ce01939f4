// Gathers the licences of the packages that are bundled into dist/: most ask that their notice goes with every copy.
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

const inPackage = /^(?<folder>.*node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+)[\\/]/;

const noticeOf = async (folder) => {
  const { name, version, license } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  const file = (await readdir(folder)).find((each) => /^licen[cs]e/i.test(each));
  const text = file
    ? (await readFile(join(folder, file), 'utf8')).trim()
    : 'The package ships no licence text.';
  return `${name} ${version} (${license})\n\n${text}\n`;
};

/** Writes the notices of the packages whose modules these are. */
export const writeNotices = async (modules) => {
  const folders = new Set(modules.flatMap((path) => inPackage.exec(path)?.groups?.folder ?? []));
  // Its run-time parts are inside the validators, which were bundled before.
  folders.add(join(import.meta.dirname, '..', 'node_modules', 'ajv'));
  const notices = await Promise.all([...folders].sort().map(noticeOf));
  const head = 'bandwright bundles the following packages, each under its own licence.\n';
  await writeFile('dist/THIRD-PARTY-NOTICES.txt', [head, ...notices].join(`\n${'-'.repeat(78)}\n\n`));
};
