import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { parseSync } from 'oxc-parser';
import { describe, expect, it } from 'vitest';

const source = resolve(import.meta.dirname, '../../src');

/** The rooms that neither reach out nor print, each with those it may import beside itself. */
const pureRooms: Readonly<Record<string, readonly string[]>> = {
  units: [],
  quantisers: ['units'],
  filters: ['units'],
  guard: ['units', 'filters'],
  simulator: ['units', 'filters', 'guard'],
  model: ['units', 'quantisers', 'filters', 'guard'],
  documents: ['units', 'filters', 'quantisers', 'model'],
  fitting: ['units', 'quantisers', 'filters', 'guard', 'model'],
  recipes: ['units', 'quantisers', 'filters', 'guard', 'model', 'fitting'],
  analysis: ['units', 'quantisers', 'filters', 'guard', 'simulator', 'model', 'fitting', 'recipes'],
  osc: ['units', 'quantisers', 'filters', 'model'],
  layout: ['units'],
  exporters: ['units', 'filters', 'guard', 'model', 'documents', 'osc', 'layout'],
  live: ['units', 'quantisers', 'filters', 'guard', 'model', 'fitting', 'recipes', 'osc'],
  standin: ['units', 'quantisers', 'filters', 'model', 'osc'],
};

/** What each room may import beside itself. A room that is not listed may import nothing of ours. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  ...pureRooms,
  node: Object.keys(pureRooms),
  cli: [...Object.keys(pureRooms), 'node'],
};

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
  .map((name) => name.split(sep).join('/'));

const roomOf = (file: string): string => file.split('/')[0] ?? '';

/** Every module a file names, by static import, re-export or dynamic import, read with a real parser. */
const importsOf = (file: string): readonly string[] => {
  const text = readFileSync(join(source, file), 'utf8');
  const { module } = parseSync(file, text);
  return [
    ...module.staticImports.map(({ moduleRequest }) => moduleRequest.value),
    ...module.staticExports.flatMap(({ entries }) =>
      entries.flatMap(({ moduleRequest }) => (moduleRequest ? [moduleRequest.value] : [])),
    ),
    ...module.dynamicImports.map(({ moduleRequest }) =>
      text.slice(moduleRequest.start, moduleRequest.end).replace(/^['"]|['"]$/g, ''),
    ),
  ];
};

const ownRoomsImported = (file: string): readonly string[] =>
  importsOf(file)
    .filter((name) => name.startsWith('.'))
    .map((name) =>
      roomOf(
        relative(source, resolve(source, dirname(file), name))
          .split(sep)
          .join('/'),
      ),
    )
    .filter((room) => room !== roomOf(file));

describe('rooms', () => {
  it('are all known to this test', () => {
    expect(files.map(roomOf).filter((room) => room !== 'index.ts' && !(room in mayImport))).toEqual([]);
  });

  it('import only from rooms below their own', () => {
    const upward = files.flatMap((file) =>
      ownRoomsImported(file)
        .filter((room) => file.includes('/') && !mayImport[roomOf(file)]?.includes(room))
        .map((room) => `${file} imports from ${room}`),
    );
    expect(upward).toEqual([]);
  });

  it('reach disk, network and clock in node/ only', () => {
    const reaching = files
      .filter((file) => roomOf(file) !== 'node')
      .filter((file) => importsOf(file).some((name) => name.startsWith('node:')));
    expect(reaching).toEqual([]);
  });

  it('half of all files are shorter than 120 lines, and none is longer than 250', () => {
    const lengths = files
      .map((file) => readFileSync(join(source, file), 'utf8').split('\n').length)
      .sort((a, b) => a - b);
    expect(lengths[Math.floor(lengths.length / 2)]).toBeLessThan(120);
    expect(lengths.at(-1)).toBeLessThanOrEqual(250);
  });
});
