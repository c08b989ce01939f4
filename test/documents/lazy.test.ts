import { readFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { parseSync } from 'oxc-parser';
import { expect, it } from 'vitest';

const room = resolve(import.meta.dirname, '../../src/documents');

/** The modules and packages that are loaded with a file, by its static imports of values. */
const loadedWith = (file: string, seen: Set<string> = new Set()): ReadonlySet<string> => {
  if (seen.has(file)) return seen;
  seen.add(file);
  const { module } = parseSync(file, readFileSync(file, 'utf8'));
  const names = [
    ...module.staticImports
      .filter(({ entries }) => entries.length === 0 || entries.some(({ isType }) => !isType))
      .map(({ moduleRequest }) => moduleRequest.value),
    ...module.staticExports.flatMap(({ entries }) =>
      entries.flatMap(({ moduleRequest, isType }) => (moduleRequest && !isType ? [moduleRequest.value] : [])),
    ),
  ];
  for (const name of names) {
    if (!name.startsWith('.')) seen.add(name);
    else if (!name.includes('/generated/'))
      loadedWith(resolve(dirname(file), name.replace(/\.js$/, '.ts')), seen);
    else seen.add(resolve(dirname(file), name));
  }
  return seen;
};

const namesLoadedWith = (file: string): readonly string[] =>
  [...loadedWith(resolve(room, file))].map((name) => (name.startsWith('/') ? relative(room, name) : name));

const forXml = ['fast-xml-parser', '@nodable/entities'];

it('JSON is read without loading what XML and words for faults need', () => {
  const loaded = namesLoadedWith('read.ts');
  expect(loaded).toEqual(expect.arrayContaining(['json/parse-json.ts', 'generated/validators.js']));
  expect(loaded).not.toEqual(expect.arrayContaining([expect.stringMatching(/^xml\//)]));
  for (const name of [...forXml, 'generated/schemas.js', 'tell-faults.ts'])
    expect(loaded).not.toContain(name);
});

it('the XML reader loads its parser', () => {
  expect(namesLoadedWith('xml/parse-xml.ts')).toEqual(expect.arrayContaining(forXml));
});

it('writing loads no parser', () => {
  for (const file of ['write-json.ts', 'write-xml.ts']) {
    expect(namesLoadedWith(file)).not.toContain('fast-xml-parser');
  }
});
