import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { compileFromFile } from 'json-schema-to-typescript';
import { expect, it } from 'vitest';

/*
 * The model's types and the published schemas say the same thing twice. Here types are made of the schemas
 * by json-schema-to-typescript 16.0.0, and the compiler says whether each fits the other.
 */

const root = resolve(import.meta.dirname, '../..');

const documents = [
  { schema: 'rig', generated: 'BandwrightRigFile', model: 'Rig', from: 'rig' },
  { schema: 'intents', generated: 'BandwrightIntentsFile', model: 'IntentsDocument', from: 'intent' },
  { schema: 'target', generated: 'BandwrightTargetFile', model: 'Target', from: 'target' },
  { schema: 'recipe', generated: 'BandwrightRecipe', model: 'Recipe', from: 'recipe' },
  { schema: 'journal', generated: 'BandwrightJournal', model: 'Journal', from: 'journal' },
] as const;

/** A module that compiles where model and schemas agree, and where a drift between them would be noticed. */
const comparison = [
  ...documents.flatMap(({ schema, generated, model, from }) => [
    `import type { ${generated} } from './${schema}.js';`,
    `import type { ${model} } from '${root}/src/model/${from}.js';`,
  ]),
  // Units and steps of slopes are numbers to a file. A key that may be left out becomes one that must be there
  // and says so; else a key that only one side knows would fit the other.
  `type Plain<T> = T extends number ? number
    : T extends string | boolean | null | undefined ? T
    : unknown extends T ? T
    : T extends readonly (infer Item)[] ? Plain<Item>[]
    : { -readonly [K in keyof T]-?: {} extends Pick<T, K> ? { optional: Plain<Exclude<T[K], undefined>> } : Plain<T[K]> };`,
  ...documents.flatMap(({ schema, generated, model }) => [
    `export const ${schema}ToSchema = (value: Plain<${model}>): Plain<${generated}> => value;`,
    `export const ${schema}ToModel = (value: Plain<${generated}>): Plain<${model}> => value;`,
  ]),
  '// @ts-expect-error: the model lacks a key that may be left out.',
  `export const lacksKey = (value: Plain<Omit<Rig, 'guard'>>): Plain<BandwrightRigFile> => value;`,
  '// @ts-expect-error: the model knows a key that the schema does not.',
  'export const newKey = (value: Plain<BandwrightRigFile>): Plain<Rig & { colour?: string }> => value;',
  '// @ts-expect-error: a key is left out in one and not in the other.',
  `export const optional = (value: Plain<BandwrightRigFile>): Plain<Rig & { guard: object }> => value;`,
  '// @ts-expect-error: a word is known to one only.',
  `export const word = (value: Plain<Omit<Recipe, 'fit'> & { fit: 'best' | Recipe['fit'] }>): Plain<BandwrightRecipe> => value;`,
].join('\n');

it('are the same types', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-types-'));
  try {
    for (const { schema } of documents) {
      const types = await compileFromFile(join(root, 'schemas', `${schema}.schema.json`), {
        cwd: join(root, 'schemas/'),
        additionalProperties: false,
        ignoreMinAndMaxItems: true,
        format: false,
      });
      await writeFile(join(folder, `${schema}.ts`), types);
    }
    await writeFile(join(folder, 'comparison.ts'), comparison);
    await writeFile(join(folder, 'package.json'), '{ "type": "module" }');
    await writeFile(
      join(folder, 'tsconfig.json'),
      JSON.stringify({
        compilerOptions: {
          noEmit: true,
          strict: true,
          exactOptionalPropertyTypes: true,
          target: 'ES2022',
          lib: ['ES2023'],
          module: 'NodeNext',
          types: [],
          skipLibCheck: true,
        },
        files: ['comparison.ts'],
      }),
    );
    const tsc = join(root, 'node_modules/.bin/tsc');
    const said = await promisify(execFile)(tsc, ['--project', folder, '--pretty', 'false']).then(
      ({ stdout }) => stdout,
      (error: { readonly stdout?: string; readonly message: string }) => error.stdout || error.message,
    );
    expect(said).toBe('');
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
