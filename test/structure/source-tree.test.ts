import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import {
  circles,
  namesTwice,
  nodeImportsOutside,
  readTree,
  type SourceTree,
  tooLong,
  unreached,
  upwardImports,
} from './source-tree.js';

const folders: string[] = [];

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

/** A tree of made-up files, read from a folder as the real one is. */
const treeOf = (files: Readonly<Record<string, string>>): SourceTree => {
  const root = mkdtempSync(join(tmpdir(), 'structure-'));
  folders.push(root);
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, name)), { recursive: true });
    writeFileSync(join(root, name), text);
  }
  return readTree(root);
};

/** Nothing is wrong with this one: each test below breaks one thing in it. */
const sound = {
  'index.ts': "export { top } from './high/top.js';\nexport type { Low } from './low/low.js';\n",
  'high/top.ts': "import type { Low } from '../low/low.js';\nexport const top = (low: Low): Low => low;\n",
  'low/low.ts': 'export interface Low { readonly a: number }\nexport const low: Low = { a: 1 };\n',
  'node/disk.ts': "import { readFileSync } from 'node:fs';\nexport const disk = () => readFileSync('x');\n",
  'node/start.ts': "const load = () => import('./disk.js');\nvoid load();\n",
};
const rooms = { low: [], high: ['low'], node: ['low', 'high'] };
const starts = ['index.ts', 'node/start.ts'];

const complaints = (tree: SourceTree) => ({
  circles: circles(tree),
  unreached: unreached(tree, starts),
  namesTwice: namesTwice(tree),
  upward: upwardImports(tree, rooms),
  node: nodeImportsOutside(tree, 'node'),
  tooLong: tooLong(tree, 4),
});

const none = { circles: [], unreached: [], namesTwice: [], upward: [], node: [], tooLong: [] };

it('a sound tree has nothing to complain of', () => {
  expect(complaints(treeOf(sound))).toEqual(none);
});

describe('each check complains of what it forbids, and no other does:', () => {
  it('a circle of values', () => {
    const tree = treeOf({
      ...sound,
      'high/top.ts': "import { mid } from './mid.js';\nexport const top = () => mid;\n",
      'high/mid.ts': "import { top } from './top.js';\nexport const mid = () => top;\n",
    });
    expect(complaints(tree)).toEqual({ ...none, circles: ['high/mid.ts > high/top.ts > high/mid.ts'] });
  });

  it('a circle of three by types, a re-export and a dynamic import', () => {
    const tree = treeOf({
      ...sound,
      'high/top.ts': "import type { B } from './b.js';\nexport const top = (b: B): B => b;\n",
      'high/b.ts': "export type { C } from './c.js';\nexport interface B { readonly b: 1 }\n",
      'high/c.ts': "export interface C { readonly c: 1 }\nexport const late = () => import('./top.js');\n",
    });
    expect(complaints(tree)).toEqual({
      ...none,
      circles: ['high/b.ts > high/c.ts > high/top.ts > high/b.ts'],
    });
  });

  it('a file that imports itself', () => {
    const tree = treeOf({ ...sound, 'low/low.ts': "export type { Low } from './low.js';\n" });
    expect(complaints(tree).circles).toEqual(['low/low.ts > low/low.ts']);
  });

  it('two circles apart', () => {
    const pair = (a: string, b: string) => ({
      [`low/${a}.ts`]: `import './${b}.js';\n`,
      [`low/${b}.ts`]: `import './${a}.js';\n`,
    });
    expect(circles(treeOf({ ...pair('a', 'b'), ...pair('c', 'd') }))).toHaveLength(2);
  });

  it('a file that nothing leads to, though it imports others', () => {
    const tree = treeOf({ ...sound, 'high/dead.ts': "import { low } from '../low/low.js';\nvoid low;\n" });
    expect(complaints(tree)).toEqual({ ...none, unreached: ['high/dead.ts'] });
  });

  it('two files that lead to each other and nothing to them', () => {
    const tree = treeOf({ ...sound, 'low/a.ts': "import './b.js';\n", 'low/b.ts': "import './a.js';\n" });
    expect(complaints(tree).unreached).toEqual(['low/a.ts', 'low/b.ts']);
  });

  it('a start that is not there', () => {
    expect(unreached(treeOf(sound), [...starts, 'gone.ts'])).toEqual(['gone.ts is not there']);
  });

  it('a name declared by two files: a value and a type, not one that is passed on', () => {
    const tree = treeOf({
      ...sound,
      'low/low.ts':
        "import type { Part } from './part.js';\nexport type { Part };\nexport interface Low extends Part { readonly a: 1 }\n",
      'low/part.ts': 'export interface Part { readonly p: 1 }\nexport const top = 1;\n',
    });
    expect(complaints(tree)).toEqual({ ...none, namesTwice: ['top: high/top.ts, low/part.ts'] });
  });

  it('classes, functions, enums and renamed exports by two files', () => {
    const tree = treeOf({
      'low/a.ts':
        'export class K {}\nexport function f() {}\nexport enum E { a }\nconst x = 1;\nexport { x as r };\n',
      'low/b.ts': 'export class K {}\nexport type f = 1;\nexport const enum E { a }\nexport let r = 1;\n',
    });
    const both = 'low/a.ts, low/b.ts';
    expect([...namesTwice(tree)].sort()).toEqual([`E: ${both}`, `K: ${both}`, `f: ${both}`, `r: ${both}`]);
  });

  it('an upward import, of a type only', () => {
    const tree = treeOf({
      ...sound,
      'low/low.ts': "import type { Up } from '../high/up.js';\nexport type Low = Up;\n",
      'high/up.ts': 'export type Up = 1;\n',
    });
    expect(complaints(tree)).toEqual({ ...none, upward: ['low/low.ts imports high/up.ts'] });
  });

  it('any import by a room that is not listed', () => {
    expect(upwardImports(treeOf(sound), { low: [], node: [] })).toEqual(['high/top.ts imports low/low.ts']);
  });

  it.each([
    ['statically', "import { join } from 'node:path';\nexport const top = join;\n"],
    ['dynamically', "export const top = () => import('node:path');\n"],
    ['by a re-export', "export { join as top } from 'node:path';\n"],
    ['for a type', "import type { ParsedPath } from 'node:path';\nexport const top = {} as ParsedPath;\n"],
  ])('Node outside its room, %s', (_, text) => {
    const tree = treeOf({ ...sound, 'high/top.ts': text });
    expect(complaints(tree)).toEqual({ ...none, node: ['high/top.ts imports node:path'] });
  });

  it('a long file', () => {
    const tree = treeOf({ ...sound, 'low/low.ts': `export type Low = 1;\n${'//\n'.repeat(3)}` });
    expect(complaints(tree)).toEqual({ ...none, tooLong: ['low/low.ts: 5 lines'] });
  });

  it('a file that cannot be read as TypeScript', () => {
    expect(() => treeOf({ 'low/low.ts': 'export const = ;\n' })).toThrow('low/low.ts cannot be parsed');
  });
});
