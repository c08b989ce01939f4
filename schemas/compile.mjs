// Compiles the schemas in this folder ahead: into plain functions, so that start-up compiles nothing; into
// one module of the schemas themselves, which the readers look up for words and for the XML form; and into
// one of the limits in them that code needs elsewhere.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { _ } from 'ajv';
import { Ajv2020 } from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';

const folder = new URL('./', import.meta.url);
const source = new URL('../src/', folder);
const documents = ['rig', 'intents', 'target', 'recipe', 'journal'];

const names = (await readdir(folder)).filter((name) => name.endsWith('.schema.json')).sort();
const schemas = await Promise.all(
  names.map(async (name) => JSON.parse(await readFile(new URL(name, folder), 'utf8'))),
);

/** A schema without some of what only people read: in strings, and in lists of examples. */
const without = (schema, words) =>
  JSON.parse(
    JSON.stringify(schema, (key, value) =>
      words.includes(key) && (typeof value === 'string' || Array.isArray(value)) ? undefined : value,
    ),
  );

const ajv = new Ajv2020({
  allErrors: true,
  discriminator: true,
  strict: true,
  strictRequired: false, // `discriminator` requires it off.
  strictTypes: false,
  allowUnionTypes: true,
  messages: false, // The words are our own.
  // Smaller code: shared definitions are called and lists are looped over, not written out at each use.
  inlineRefs: false,
  loopRequired: 1,
  loopEnum: 1,
  code: { source: true, esm: true },
});

// ajv compares every item with every other where it cannot see their type. All our unique lists hold strings
// or numbers, and a hostile file can hold a hundred thousand of them.
ajv.removeKeyword('uniqueItems');
ajv.addKeyword({
  keyword: 'uniqueItems',
  type: 'array',
  schemaType: 'boolean',
  error: { message: '', params: _`{}` },
  code: (context) => context.fail(_`new Set(${context.data}).size !== ${context.data}.length`),
});
for (const schema of schemas) ajv.addSchema(without(schema, ['title', 'description', 'examples'])); // It would embed every word.

const compiled = standaloneCode.default(
  ajv,
  Object.fromEntries(documents.map((name) => [name, `${name}.schema.json`])),
);

// ajv copies all complaints so far for each one added, which takes minutes where there are many: add in place.
const copying = /vErrors = vErrors === null \? (validate\d+)\.errors : vErrors\.concat\(\1\.errors\);/g;
const adding =
  'const addAll = (all, more) => { if (all === null) return more; for (const each of more) all.push(each); return all; };\n';
const code = adding + compiled.replace(copying, 'vErrors = addAll(vErrors, $1.errors);');
if (!code.includes('= addAll(') || code.includes('.concat(')) {
  throw new Error('ajv writes its code otherwise than expected: see "copying" in schemas/compile.mjs');
}
const bundled = await build({
  stdin: { contents: code, resolveDir: fileURLToPath(new URL('../', folder)), loader: 'js' },
  bundle: true,
  minify: true,
  format: 'esm',
  platform: 'node',
  write: false,
});

/** The limits that code needs, by the names it knows them by, and where the schemas state them. */
const limitPlaces = {
  frequencyHz: 'common/$defs/frequencyHz',
  q: 'common/$defs/q',
  bandwidthOctaves: 'common/$defs/bandwidthOctaves',
  gainDb: 'common/$defs/gainDb',
  output: 'common/$defs/output',
  windowHz: 'rig/$defs/guard/properties/windowHz',
  keepLossDb: 'rig/$defs/guard/properties/keepLossAtMostDb',
  pilotAttenuationDb: 'rig/$defs/guard/properties/pilotAttenuationAtLeastDb',
  geometricCount: 'quantiser/$defs/geometric/properties/count',
  octaveFraction: 'quantiser/$defs/octaveFraction/properties/fraction',
  significantDigits: 'quantiser/$defs/significantDigits/properties/digits',
  tableValues: 'quantiser/$defs/table/properties/values',
};

const limitAt = (place) => {
  const [file, ...keys] = place.split('/');
  const schema = keys.reduce(
    (at, key) => at?.[key],
    schemas.find(({ $id }) => $id === `${file}.schema.json`),
  );
  const limit = {
    least: schema?.minimum ?? schema?.exclusiveMinimum ?? schema?.minItems,
    most: schema?.maximum ?? schema?.maxItems,
  };
  if (limit.least === undefined || limit.most === undefined) throw new Error(`no limits at ${place}`);
  return limit;
};

const limits = Object.fromEntries(Object.entries(limitPlaces).map(([name, place]) => [name, limitAt(place)]));

const files = {
  'documents/generated/validators.js': bundled.outputFiles[0].text,
  'documents/generated/validators.d.ts': [
    "import type { Documents } from '../documents.js';\n",
    "import type { Validator } from '../schema.js';\n",
    ...documents.map((name) => `export declare const ${name}: Validator<Documents['${name}']>;\n`),
  ].join(''),
  'documents/generated/schemas.js': `export const schemas = ${JSON.stringify(Object.fromEntries(schemas.map((s) => [s.$id, without(s, ['$schema', 'examples'])])))};\n`,
  'documents/generated/schemas.d.ts': [
    "import type { Schema } from '../schema.js';\n",
    'export declare const schemas: Readonly<Record<string, Schema>>;\n',
  ].join(''),
  'units/generated/limits.js': `export const limits = ${JSON.stringify(limits)};\n`,
  'units/generated/limits.d.ts': [
    '/** From where to where the schemas let values be; a frequency, a Q or a bandwidth of 0 is itself too low. */\n',
    'export declare const limits: {\n',
    ...Object.keys(limits).map(
      (name) => `  readonly ${name}: { readonly least: number; readonly most: number };\n`,
    ),
    '};\n',
  ].join(''),
};

for (const [name, contents] of Object.entries(files)) {
  const file = new URL(name, source);
  await mkdir(new URL('./', file), { recursive: true });
  await writeFile(file, contents);
}
