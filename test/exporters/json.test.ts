import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { writeJson } from '../../src/documents/write-json.js';
import { json } from '../../src/exporters/json.js';
import { hostileRecipe, textOf } from './export.js';
import { recipe } from './fixture.js';

/** Without the emoji, whose joiner this exporter escapes. */
const plainRecipe = { ...recipe, mixes: recipe.mixes.filter(({ outputs }) => outputs[0] !== 9) };

const content = await textOf(json);

it('loses nothing', () => {
  expect(JSON.parse(content)).toEqual(JSON.parse(JSON.stringify(recipe)));
});

it('loses nothing of hostile text either', async () => {
  expect(JSON.parse(await textOf(json, hostileRecipe))).toEqual(JSON.parse(JSON.stringify(hostileRecipe)));
});

it('is what its schema says', () => {
  const folder = new URL('../../schemas/', import.meta.url);
  const schemas = readdirSync(folder)
    .filter((name) => name.endsWith('.schema.json'))
    .map((name) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')));
  const ajv = new Ajv2020({ schemas, discriminator: true, strict: false });
  const validate = ajv.getSchema('recipe.schema.json');
  expect(validate?.(JSON.parse(content)), JSON.stringify(validate?.errors)).toBe(true);
});

it('is indented by two blanks, begins with its format and ends in one line feed', () => {
  expect(content).toMatch(/^\{\n {2}"format": "bandwright-recipe\/1",\n {2}"rig": \{\n {4}"title"/);
  expect(content).toMatch(/\n\}\n$/);
});

it('is what reading writes, byte for byte', async () => {
  expect(await textOf(json, plainRecipe)).toBe(writeJson(plainRecipe));
});
