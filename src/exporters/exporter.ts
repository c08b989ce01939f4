import type { Outcome } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Target } from '../model/target.js';

export interface ExportContext {
  /** The target the recipe was made for. */
  readonly target: Target;
}

/**
 * A form of the recipe, as one file: a plain object, the plug-in of this room. It writes nothing, and the same
 * recipe always gives the same content.
 */
export interface Exporter {
  /** The name people choose it by: lower case, digits and hyphens. */
  readonly name: string;
  /** One line for people. */
  readonly summary: string;
  /** A plain file name, the same for every recipe: nothing from outside gets into a path. */
  readonly fileName: string;
  /** RFC 6838. Text is UTF-8. */
  readonly mediaType: string;
  /** Text, or bytes where the form is binary. */
  content(recipe: Recipe, context: ExportContext): Outcome<string | Uint8Array>;
}
