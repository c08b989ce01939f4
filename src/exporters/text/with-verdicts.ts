import { type Emphasise, emphasised } from '../../layout/emphasis.js';
import type { MissingFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { guardWords, missingText } from '../words/figures.js';

/** Lines with verdicts and what is missing emphasised. */
export const withVerdicts = (
  lines: readonly string[],
  missing: readonly MissingFilter[],
  emphasise: Emphasise,
): readonly string[] =>
  emphasised(
    lines,
    {
      met: [guardWords.met],
      // A role of the user's own goes on after the type.
      short: [
        guardWords['falls-short'],
        ...missing.flatMap((each) => [missingText(each), `NO ${typeWords[each.type].toUpperCase()}`]),
      ],
    },
    emphasise,
  );
