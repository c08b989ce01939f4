import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, posix, resolve } from 'node:path';

/** The checkout. */
export const root = resolve(import.meta.dirname, '../..');
/** A copy of it without tests and dependencies, which it shares; whoever imports this removes it. */
export const copy = mkdtempSync(join(tmpdir(), 'plug-ins-'));

const left = ['.git', 'node_modules', 'dist', 'test'];
for (const name of readdirSync(root).filter((each) => !left.includes(each))) {
  cpSync(join(root, name), join(copy, name), { recursive: true });
}
symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));

/** The rows of the table of plug-ins in the guide: what is added, and the files that its other cells name. */
const guideRows = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8')
  .split(/^## /m)
  .filter((section) => section.startsWith('Adding a plug-in'))
  .flatMap((section) => section.match(/^\|.*\|$/gm) ?? [])
  .map((row) => row.split('|').map((cell) => cell.trim()))
  .map(([, name = '', ...cells]) => ({
    name,
    files: [...cells.join(' ').matchAll(/`([\w./-]+\.(?:ts|json))`/g)].map(([, path = '']) =>
      path.startsWith('schemas/') ? path : `src/${path}`,
    ),
  }));

/** The files that the guide says to touch or to look at for a plug-in, over all rows that name it. */
const filesFor = (plugIn: string): readonly string[] =>
  guideRows.filter(({ name }) => name.includes(plugIn)).flatMap(({ files }) => files);

/** The one that a pattern tells of them. */
export const fileFor = (plugIn: string, pattern: RegExp): string => {
  const found = filesFor(plugIn).find((file) => pattern.test(file));
  if (found === undefined) throw new Error(`The guide names no file like ${pattern} for a ${plugIn}.`);
  return found;
};

/** Adds a file. */
export const add = (file: string, text: string): void => {
  if (existsSync(join(copy, file))) throw new Error(`${file} is there already.`);
  mkdirSync(dirname(join(copy, file)), { recursive: true });
  writeFileSync(join(copy, file), text);
};

/** Changes a file, which the guide must name. */
export const change = (file: string, changed: (text: string) => string): void => {
  if (!guideRows.some(({ files }) => files.includes(file)))
    throw new Error(`The guide does not name ${file}.`);
  const before = readFileSync(join(copy, file), 'utf8');
  const after = changed(before);
  if (after === before) throw new Error(`${file} has no place for the plug-in where one was expected.`);
  writeFileSync(join(copy, file), after);
};

/** How one file imports another. */
export const relativeTo = (file: string, other: string): string => {
  const path = posix.relative(posix.dirname(file), other).replace(/\.ts$/, '.js');
  return path.startsWith('.') ? path : `./${path}`;
};

/** Puts an entry at the beginning of a list or record, and what it names among the imports. */
export const register = (
  file: string,
  opening: RegExp,
  entry: string,
  imported?: readonly [name: string, from: string],
): void =>
  change(file, (text) => {
    if (!opening.test(text)) throw new Error(`${file} has nothing like ${opening}.`);
    const listed = text.replace(opening, (found) => `${found}\n  ${entry},`);
    if (!imported) return listed;
    const [name, from] = imported;
    return `import { ${name} } from '${relativeTo(file, from)}';
${listed}`;
  });

/** Builds the copy as the project is built: schemas compiled, types checked, bundled. What fails stands in the error. */
export const build = (): void => {
  const { status, stdout, stderr } = spawnSync('npm', ['run', '--silent', 'build'], {
    cwd: copy,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`The build of the copy ends with ${status}:\n${stdout}${stderr}`);
};

/** Runs the copy's program in its folder. */
export const run = (...args: readonly string[]) => {
  const { bin } = JSON.parse(readFileSync(join(copy, 'package.json'), 'utf8'));
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(copy, bin.bandwright), ...args], {
    cwd: copy,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};
