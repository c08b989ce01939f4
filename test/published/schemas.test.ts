import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Validator } from '@cfworker/json-schema';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guide } from '../../schemas/describe.mjs';
import { documentNamed, documentNames } from '../../src/documents/documents.js';
import { documentKinds } from '../../src/documents/kinds.js';
import { readDocument, readTarget } from '../../src/documents/read.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { samples } from '../documents/samples.js';
import { documents } from '../laws/documents.js';
import { spoiltPlain } from '../laws/spoil.js';

/*
 * The published schemas are checked by validators other than the one compiled into bandwright:
 * @cfworker/json-schema 4.1.6 (an independent implementation of draft 2020-12), and against the meta-schema
 * of draft 2020-12 by ajv 8.20.0 as it comes.
 */

const root = resolve(import.meta.dirname, '../..');
const json = (path: string): unknown => JSON.parse(readFileSync(join(root, path), 'utf8'));
const filesIn = (folder: string, ending: string): readonly string[] =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith(ending))
    .map((name) => `${folder}/${name}`);

const schemaFiles = filesIn('schemas', '.schema.json');

const schemas = schemaFiles.map((file) => json(file) as { readonly $id: string });

const independent = Object.fromEntries(
  documentNames.map((name) => {
    const own = schemas.find(({ $id }) => $id === `${name}.schema.json`);
    if (!own) throw new Error(`no schema for ${name}`);
    const validator = new Validator(structuredClone(own), '2020-12', true);
    for (const other of schemas) if (other !== own) validator.addSchema(structuredClone(other));
    return [name, validator] as const;
  }),
);

describe('the schemas', () => {
  it.each(schemaFiles)('%s is a schema of draft 2020-12', (file) => {
    const ajv = new Ajv2020({ strict: false });
    expect(ajv.validateSchema(json(file) as object)).toBe(true);
  });

  it('are called as their files are', () => {
    expect(schemas.map(({ $id }) => `schemas/${$id}`)).toEqual(schemaFiles);
  });
});

const examples = [
  ...filesIn('targets', '.json'),
  ...filesIn('test/fixtures', '.json'),
  'src/cli/demo-rig.json',
];

describe('the documents shipped and used in tests', () => {
  it.each(examples)('%s fits its schema to both validators', (file) => {
    const document = json(file) as { readonly format: string };
    const name = documentNamed(document.format);
    if (!name) throw new Error(`${file} is no document`);
    expect(independent[name]?.validate(document)).toMatchObject({ valid: true, errors: [] });
    expect(documentKinds.find((kind) => kind.name === name)?.validate(document)).toEqual({
      ok: true,
      value: document,
    });
  });

  it('are many', () => {
    expect(examples.length).toBeGreaterThanOrEqual(6);
  });
});

describe('the guide to the files', () => {
  it('is what describe.mjs makes of the schemas', () => {
    expect(readFileSync(join(root, 'schemas/README.md'), 'utf8')).toBe(guide());
  });

  const shown = [...guide().matchAll(/^```json\n(.*?)\n```$/gms)].map(([, text = '']) => text);
  const whole = shown.filter((text) => text.includes('"format"'));

  it('shows an example of every document, and of the part of a target that is OSC', () => {
    expect(shown).toHaveLength(documentNames.length + 1);
    const formats = whole.map((text) => (JSON.parse(text) as { readonly format: string }).format);
    expect(formats.map(documentNamed).sort()).toEqual([...documentNames].sort());
  });

  it.each(whole.map((text) => [text.slice(0, 40), text]))(
    '%s is read, and fits its schema to both validators',
    async (_, text) => {
      const document = JSON.parse(text) as { readonly format: string };
      const name = documentNamed(document.format);
      if (!name) throw new Error('no document');
      expect(independent[name]?.validate(document)).toMatchObject({ valid: true, errors: [] });
      expect(readDocument(text, { source: 'guide' })).toEqual({ ok: true, value: document });
    },
  );

  it('shows quantisers and OSC that stand in a target', async () => {
    const [target = ''] = whole.filter((text) => text.includes('bandwright-target/1'));
    const [osc = ''] = shown.filter((text) => !whole.includes(text));
    const grids = [...guide().matchAll(/`(\{"kind":.*?\})` \|$/gm)].map(([, grid = '']) => JSON.parse(grid));
    expect(grids).toHaveLength(9);
    const document = JSON.parse(target);
    for (const [index, grid] of grids.entries()) document.quantisers[`grid-${index}`] = grid;
    document.osc = JSON.parse(osc);
    const read = readTarget(JSON.stringify(document), { source: 'guide' });
    const desk = read.ok ? makeDesk(read.value) : read;
    expect(desk).toMatchObject({ ok: true });
  });

  it('has a row for every key that the samples in the tests have, so that nothing is left out', () => {
    const keysIn = (value: unknown): readonly string[] =>
      typeof value === 'object' && value !== null
        ? Object.entries(value).flatMap(([key, inner]) => [
            ...(Array.isArray(value) ? [] : [key]),
            ...keysIn(inner),
          ])
        : [];
    const own = ['ears', 'side-fill', 'hertz', 'q-steps', 'gains', 'slopes'];
    const fields = new Set(
      [...guide().matchAll(/^\| `(.*?)`/gm)].flatMap(([, path = '']) => path.split(/[^A-Za-z0-9]+/)),
    );
    const told = new Set([...fields, ...[...guide().matchAll(/`(\w+)`: /g)].map(([, key = '']) => key)]);
    const all = Object.values(samples).flatMap(keysIn);
    expect(all.length).toBeGreaterThan(200);
    expect([...new Set(all)].filter((key) => !told.has(key) && !own.includes(key))).toEqual([]);
  });
});

describe.each(documentKinds)('a $name', ({ name, validate }) => {
  it('that is spoilt in one place is judged alike by both validators', () => {
    let refused = 0;
    fc.assert(
      fc.property(spoiltPlain(documents[name]), (spoilt) => {
        const verdict = validate(spoilt).ok;
        if (!verdict) refused++;
        expect(verdict).toBe(independent[name]?.validate(spoilt).valid);
      }),
      { numRuns: Number(process.env.RUNS ?? 200) },
    );
    expect(refused).toBeGreaterThan(100);
  });
});
