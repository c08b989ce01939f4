import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import type { Section } from '../../filters/section.js';
import { keepLossDb, pilotAttenuationDb, riseDb } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { type Db, db } from '../../units/quantity.js';

/** What filters do together, the worst over the ways a desk may build them. */
export interface Effects {
  /** The least that is taken in the pilot's window; negative where it is lifted. */
  pilotDb(filters: readonly Filter[]): Db;
  /** The most that is lost in the keep band. */
  lossDb(filters: readonly Filter[]): Db;
  /** The most that is raised anywhere. */
  riseDb(filters: readonly Filter[]): Db;
}

/** Works out effects for a desk's realisations and one guard. */
export const effectsFor = (realisations: readonly Realisation[], scope: GuardScope): Effects => {
  const over = (
    filters: readonly Filter[],
    figure: (chain: readonly Section[], realisation: Realisation) => Db,
    // Nothing at all comes to -0.
  ): readonly number[] => realisations.map((each) => figure(buildChain(filters, each), each) + 0);
  return {
    pilotDb: (filters) => db(Math.min(...over(filters, (chain) => pilotAttenuationDb(chain, scope)))),
    lossDb: (filters) => db(Math.max(...over(filters, (chain) => keepLossDb(chain, scope)))),
    riseDb: (filters) =>
      db(Math.max(...over(filters, (chain, { sampleRateHz }) => riseDb(chain, sampleRateHz)))),
  };
};
