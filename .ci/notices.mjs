// Gathers the licences of the packages that are bundled into dist/: most ask that their notice goes with every copy.
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

const { inputs } = JSON.parse(await readFile('dist/meta.json', 'utf8'));
const inPackage = /^(?<folder>.*node_modules\/(?:@[^/]+\/)?[^/]+)\//;
const folders = [
  ...new Set(Object.keys(inputs).flatMap((path) => inPackage.exec(path)?.groups?.folder ?? [])),
  // Its run-time parts are inside the validators, which were bundled before.
  'node_modules/ajv',
].sort();

const noticeOf = async (folder) => {
  const { name, version, license } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  const file = (await readdir(folder)).find((each) => /^licen[cs]e/i.test(each));
  const text = file
    ? (await readFile(join(folder, file), 'utf8')).trim()
    : 'The package ships no licence text.';
  return `${name} ${version} (${license})\n\n${text}\n`;
};

const notices = await Promise.all(folders.map(noticeOf));
const head = 'bandwright bundles the following packages, each under its own licence.\n';
await writeFile('dist/THIRD-PARTY-NOTICES.txt', [head, ...notices].join(`\n${'-'.repeat(78)}\n\n`));
await rm('dist/meta.json');
