import type { Emphasise } from '../../layout/emphasis.js';
import type { RecipeMix } from '../../model/recipe.js';
import type { TypeLabels } from '../words/settings.js';

/** What lines are made for. */
export interface Page {
  readonly labels: TypeLabels;
  readonly columns: number;
  readonly emphasise: Emphasise;
  /** What a mix's filters do over frequency, drawn; nothing where that is not asked for. */
  readonly plot: (mix: RecipeMix) => readonly string[];
  /** What the marks of all that was drawn mean. */
  readonly legend: readonly string[];
}
