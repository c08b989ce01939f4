import { writeJson } from '../documents/write-json.js';
import type { Recipe } from '../model/recipe.js';
import { ok } from '../units/result.js';
import { type Exporter, escapeControlCharacters } from './exporter.js';

const escaped = (text: string): string =>
  Array.from({ length: text.length }, (_, index) => {
    const unit = text.charCodeAt(index).toString(16).padStart(4, '0');
    return `\\u${unit}`;
  }).join('');

/** The text of the form. */
export const recipeJson = (recipe: Recipe): string => escapeControlCharacters(writeJson(recipe), escaped);

/** The recipe as JSON (RFC 8259), two spaces to a level, keys in the order of `recipe.schema.json`. */
export const json: Exporter = {
  name: 'json',
  summary: 'the whole recipe, for programs',
  fileName: 'recipe.json',
  mediaType: 'application/json',
  content: (recipe) => ok(recipeJson(recipe)),
};
