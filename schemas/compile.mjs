// Compiles the schemas in this folder into one module of plain functions, so that start-up compiles nothing.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { Ajv2020 } from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';

const folder = new URL('./', import.meta.url);
const output = new URL('../src/reading/generated/', folder);
const documents = ['rig', 'intents', 'target', 'recipe'];

const names = (await readdir(folder)).filter((name) => name.endsWith('.schema.json')).sort();
const schemas = await Promise.all(
  names.map(async (name) => JSON.parse(await readFile(new URL(name, folder), 'utf8'))),
);

const ajv = new Ajv2020({
  schemas,
  allErrors: true,
  verbose: false,
  discriminator: true,
  strict: true,
  strictRequired: false,
  strictTypes: false,
  allowUnionTypes: true,
  code: { source: true, esm: true },
});

const code = standaloneCode.default(
  ajv,
  Object.fromEntries(documents.map((name) => [name, `${name}.schema.json`])),
);
const bundled = await build({
  stdin: { contents: code, resolveDir: new URL('../', folder).pathname, loader: 'js' },
  bundle: true,
  format: 'esm',
  platform: 'node',
  write: false,
});

await mkdir(output, { recursive: true });
await writeFile(new URL('validators.js', output), bundled.outputFiles[0].contents);
await writeFile(
  new URL('validators.d.ts', output),
  `import type { ValidateFunction } from 'ajv';\n${documents
    .map((name) => `export declare const ${name}: ValidateFunction;\n`)
    .join('')}`,
);
await writeFile(
  new URL('schemas.json', output),
  JSON.stringify(Object.fromEntries(schemas.map((s) => [s.$id, s]))),
);
