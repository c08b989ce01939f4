import { readdirSync, readFileSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  circles,
  namesTwice,
  nodeImportsOutside,
  readTree,
  roomOf,
  tooLong,
  unreached,
  upwardImports,
} from './source-tree.js';

const root = resolve(import.meta.dirname, '../..');

/** The rooms that neither reach out nor print, each with those it may import beside itself. */
const pureRooms: Readonly<Record<string, readonly string[]>> = {
  units: [],
  quantisers: ['units'],
  filters: ['units'],
  guard: ['units', 'filters'],
  simulator: ['units', 'filters', 'guard'],
  model: ['units', 'quantisers', 'filters', 'guard'],
  learning: ['units', 'quantisers', 'model'],
  documents: ['units', 'filters', 'quantisers', 'model'],
  fitting: ['units', 'quantisers', 'filters', 'guard', 'model'],
  recipes: ['units', 'quantisers', 'filters', 'guard', 'model', 'fitting'],
  analysis: ['units', 'quantisers', 'filters', 'guard', 'simulator', 'model', 'fitting', 'recipes'],
  osc: ['units', 'quantisers', 'filters', 'model'],
  layout: ['units'],
  drawing: ['units', 'layout'],
  exporters: [
    'units',
    'quantisers',
    'filters',
    'guard',
    'model',
    'documents',
    'analysis',
    'osc',
    'layout',
    'drawing',
  ],
  live: ['units', 'quantisers', 'filters', 'guard', 'model', 'learning', 'fitting', 'recipes', 'osc'],
  standin: ['units', 'quantisers', 'filters', 'model', 'osc'],
};

/** What each room may import beside itself. A room that is not listed may import nothing of ours. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  ...pureRooms,
  node: Object.keys(pureRooms),
  cli: [...Object.keys(pureRooms), 'node'],
};

const tree = readTree(resolve(root, 'src'));

/** Where the build begins: every source file that it names. */
const starts = ['package.json', ...readdirSync(resolve(root, '.ci')).map((name) => `.ci/${name}`)]
  .filter((name) => statSync(resolve(root, name)).isFile())
  .flatMap((name) => readFileSync(resolve(root, name), 'utf8').match(/\bsrc\/[\w/-]+\.ts\b/g) ?? [])
  .map((name) => name.replace('src/', ''));

describe('rooms', () => {
  it('are all known to this test', () => {
    const isDoor = (name: string) => !name.includes('/');
    expect([...tree.keys()].filter((name) => !isDoor(name) && !(roomOf(name) in mayImport))).toEqual([]);
  });

  it('import only from rooms below their own', () => {
    expect(upwardImports(tree, mayImport)).toEqual([]);
  });

  it('reach disk, network and clock in node/ only', () => {
    expect(nodeImportsOutside(tree, 'node')).toEqual([]);
  });
});

describe('files', () => {
  it('do not import each other in a circle, not even for a type', () => {
    expect(circles(tree)).toEqual([]);
  });

  it('are all needed by the program or the library, not by tests only', () => {
    expect(starts).toContain('cli/main.ts');
    expect(unreached(tree, starts)).toEqual([]);
  });

  it('declare no exported name that another declares', () => {
    expect(namesTwice(tree)).toEqual([]);
  });

  it('have at most 250 lines, and half of them fewer than 120', () => {
    expect(tooLong(tree, 250)).toEqual([]);
    expect(tooLong(tree, 119).length).toBeLessThan(tree.size / 2);
  });
});
