import { buildChain } from '../filters/build.js';
import type { Filter } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import type { Shortcoming } from '../fitting/fit.js';
import { placedFilter } from '../fitting/placement.js';
import { pilotAttenuationDb } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { PlacedFilter } from '../model/recipe.js';
import { type Db, db } from '../units/quantity.js';

/** What a shortcoming costs at the pilot: the least and the most over the ways the desk may build filters. */
export interface PilotCost {
  readonly leastDb: Db;
  readonly mostDb: Db;
}

const filtersOf = (filters: readonly PlacedFilter[]): readonly Filter[] =>
  filters.map(({ type, set }) => placedFilter(type, set));

/**
 * How much more attenuation the pilot would get, everything else left as it is, were the one intent built
 * just as asked. Negative where what was done instead takes more. Null where no realisation can build what
 * was asked, its frequency lying above half of every sample rate.
 */
export const pilotCost = (
  { intent, ...shortcoming }: Shortcoming,
  filters: readonly PlacedFilter[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): PilotCost | null => {
  const served = 'placed' in shortcoming ? shortcoming.placed : null;
  const others = filtersOf(filters.filter((placed) => placed !== served));
  const { role: _, ...asked } = intent;
  const costsDb = realisations
    .filter(({ sampleRateHz }) => sampleRateHz === null || asked.frequencyHz < sampleRateHz / 2)
    .map((realisation) => {
      const asIsDb = pilotAttenuationDb(buildChain(filtersOf(filters), realisation), scope);
      const asAskedDb = pilotAttenuationDb(buildChain([...others, asked], realisation), scope);
      return asAskedDb - asIsDb;
    });
  return costsDb.length === 0
    ? null
    : { leastDb: db(Math.min(...costsDb)), mostDb: db(Math.max(...costsDb)) };
};
