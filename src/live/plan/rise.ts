import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import { riseDb } from '../../guard/guard-figures.js';
import type { Desk } from '../../model/desk.js';
import { type Problem, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import { filterPhrase } from '../../model/words.js';
import { quote } from '../../units/quote.js';

/** How much the filters of a mix together may raise any level, unless told otherwise. */
const greatestRiseDb = 0.5;

/**
 * Everything in a recipe that raises a level: a set gain above 0 dB, or filters that together, in the worst way the
 * desk may build them, lift some frequency by more than 0.5 dB. It is worked out anew, whatever the recipe says.
 */
export const rises = (recipe: Recipe, { target }: Desk): readonly Problem[] =>
  recipe.mixes.flatMap(({ name, filters, treatment }, index) => {
    if (treatment === 'leave-alone') return [];
    const chain = filters.map(({ type, set }): Filter => ({ type, ...set }));
    const raised = chain.find(({ gainDb }) => gainDb !== undefined && gainDb > 0);
    const worstDb = Math.max(
      ...target.realisations.map((each) => riseDb(buildChain(chain, each), each.sampleRateHz)),
    );
    const why = raised
      ? `a ${filterPhrase(raised)} is among its filters`
      : worstDb > greatestRiseDb
        ? `its filters lift some frequency by ${worstDb.toFixed(1)} dB`
        : null;
    return why === null
      ? []
      : [
          problem(
            'raises-level',
            `mixes[${index}]`,
            `${quote(name)} would be raised: ${why}. Nothing was sent. Add --allow-rise if that is meant, and start low.`,
          ),
        ];
  });
