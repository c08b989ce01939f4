// Compiles the schemas in this folder ahead, a document apart from the others, so that whoever reads one loads no more:
// into plain functions, so that start-up compiles nothing; into one schema that holds all it refers to, which the readers
// look up for words and for the XML form; and into the limits in them that code needs elsewhere.
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
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

/** A document's schema with all that it refers to among its own definitions, each under its file and its name. */
const selfContained = (document) => {
  const definitions = {};
  const inline = (schema, file) =>
    JSON.parse(JSON.stringify(schema), (key, value) => {
      if (key !== '$ref' || typeof value !== 'string') return value;
      const [other, pointer = ''] = value.split('#');
      const from = other || file;
      const name = `${from}${pointer.replace('/$defs/', '#')}`;
      if (!(name in definitions)) {
        definitions[name] = {};
        const { $defs = {}, ...whole } = schemas.find(({ $id }) => $id === from);
        const found = pointer === '' ? whole : $defs[pointer.replace('/$defs/', '')];
        if (!found) throw new Error(`nothing stands at ${value}`);
        definitions[name] = inline(found, from);
      }
      return name;
    });
  const { $defs, ...root } = schemas.find(({ $id }) => $id === `${document}.schema.json`);
  return { ...inline(root, root.$id), $defs: definitions };
};

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
  code: { source: true, esm: true, lines: true },
});
// What no schema here uses, and every function would keep account of.
Object.assign(ajv.opts, { unevaluated: false, dynamicRef: false });

const replaceKeyword = (definition) => ajv.removeKeyword(definition.keyword).addKeyword(definition);

// ajv compares every item with every other where it cannot see their type. All our unique lists hold strings
// or numbers, and a hostile file can hold a hundred thousand of them.
replaceKeyword({
  keyword: 'uniqueItems',
  type: 'array',
  schemaType: 'boolean',
  error: { message: '', params: _`{}` },
  code: (context) => context.fail(_`new Set(${context.data}).size !== ${context.data}.length`),
});
// All our enumerations hold what `===` compares.
replaceKeyword({
  keyword: 'enum',
  schemaType: 'array',
  error: { message: '', params: ({ schemaCode }) => _`{allowedValues: ${schemaCode}}` },
  code: (context) => context.fail(_`!${context.schemaCode}.includes(${context.data})`),
});
for (const schema of schemas) ajv.addSchema(without(schema, ['title', 'description', 'examples'])); // It would embed every word.

/** Replaces something in ajv's code, which is to be there. */
const replace = (code, pattern, replacement) => {
  if (!pattern.test(code)) throw new Error(`ajv writes its code otherwise than expected: no ${pattern}`);
  return code.replace(pattern, replacement);
};

/** A document's validator as a module. */
const compile = async (document) => {
  let code = standaloneCode.default(ajv, { validate: `${document}.schema.json` });
  code = replace(code, /export const validate = /g, 'const validate = ');
  // Each of hundreds of complaints is written out in full, with what nobody reads: call one function instead.
  code = replace(
    code,
    /const (err\d+) = \{instancePath(?::(.*))?,schemaPath:".*?",keyword:(".*?"),params:(.*)\};\s*if\(vErrors === null\)\{\s*vErrors = \[\1\];\s*\}\s*else \{\s*vErrors\.push\(\1\);\s*\}/g,
    (_whole, _name, path = 'instancePath', keyword, params) => {
      const told = /^\{(limit|comparison|pattern):/.test(params) ? '{}' : params; // The schema tells those.
      return `vErrors = addAll(vErrors, [{ instancePath: ${path}, keyword: ${keyword}, params: ${told} }]);`;
    },
  );
  code = replace(code, /,\s*parentData\b[^{}]*, ?rootData(=data)?\}/g, '}'); // Nobody asks for those.
  // ajv copies all complaints so far for those of each part, which takes minutes where there are many: add in place.
  code = replace(
    code,
    /vErrors = vErrors === null \? (validate\d+)\.errors : vErrors\.concat\(\1\.errors\);/g,
    'vErrors = addAll(vErrors, $1.errors);',
  );
  // It keeps whole schemas for the few lists in them that it looks up: keep those.
  const whole = {};
  code = replace(code, /^const (schema\d+) = (\{.*\});$/gm, (_line, name, text) => {
    whole[name] = JSON.parse(text);
    return '';
  });
  code = replace(code, /\b(schema\d+)((?:\.(?!includes\()\w+|\["[^"]*"\])*)/g, (_place, name, keys) => {
    const at = [...keys.matchAll(/\.(\w+)|\["([^"]*)"\]/g)].map(([, plain, quoted]) => plain ?? quoted);
    const value = at.reduce((inner, key) => inner[key], whole[name]);
    if (value === undefined) throw new Error(`no ${keys} in ${name}`);
    const isMap = at.at(-1) === 'properties';
    return `(${JSON.stringify(isMap ? Object.fromEntries(Object.keys(value).map((key) => [key, 0])) : value)})`;
  });
  // The same characters (Unicode's categories Cc and Cs never change), known without its tables.
  code = code
    .replaceAll('\\\\p{Cc}', '\\\\0-\\\\x1f\\\\x7f-\\\\x9f')
    .replaceAll('\\\\p{Cs}', '\\\\ud800-\\\\udfff');
  const adding =
    'const addAll = (all, more) => { if (all === null) return more; for (const each of more) all.push(each); return all; };';
  const asResult =
    'export const result = (value) => validate(value) ? { ok: true, value } : { ok: false, error: validate.errors };';
  const bundled = await build({
    stdin: {
      contents: [adding, code, asResult].join('\n'),
      resolveDir: fileURLToPath(new URL('../', folder)),
      loader: 'js',
    },
    bundle: true,
    minify: true,
    format: 'esm',
    platform: 'node',
    write: false,
  });
  return replace(bundled.outputFiles[0].text, / as result\b/, ` as ${document}Validator`);
};

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
  ratioSteps: 'quantiser/$defs/ratioSteps/properties/perOctave',
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

for (const document of documents) {
  const schema = without(selfContained(document), ['$schema', '$id', 'examples']);
  const place = `documents/generated/${document}`;
  files[`${place}-validator.js`] = await compile(document);
  files[`${place}-validator.d.ts`] = [
    "import type { Documents } from '../documents.js';\n",
    "import type { Validator } from '../schema.js';\n",
    `export declare const ${document}Validator: Validator<Documents['${document}']>;\n`,
  ].join('');
  // In a function, so that it is made only where it is asked for.
  files[`${place}-schema.js`] =
    `let schema;\nexport const ${document}Schema = () => (schema ??= ${JSON.stringify(schema)});\n`;
  files[`${place}-schema.d.ts`] = [
    "import type { Schema } from '../schema.js';\n",
    `export declare const ${document}Schema: () => Schema;\n`,
  ].join('');
}

await rm(new URL('documents/generated/', source), { recursive: true, force: true });
for (const [name, contents] of Object.entries(files)) {
  const file = new URL(name, source);
  await mkdir(new URL('./', file), { recursive: true });
  await writeFile(file, contents);
}
