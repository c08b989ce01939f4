import { buildChain } from '../filters/build.js';
import type { Realisation } from '../filters/realisation.js';
import type { GuardTask } from '../fitting/guard-task.js';
import { placedFilter } from '../fitting/placement.js';
import { guardFigures, guardHolds, worstFigures } from '../guard/guard-figures.js';
import { overDeviatingLineUps } from '../guard/over-deviation.js';
import { pilotToProgrammeRange } from '../guard/pilot-to-programme.js';
import { usualProgramme } from '../guard/programme.js';
import type { Guard, PlacedFilter } from '../model/recipe.js';

/** What filters do to the pilot and the music, for every way the desk may build them, and the verdict. */
export const makeGuard = (
  filters: readonly PlacedFilter[],
  realisations: readonly Realisation[],
  { scope, lossLimits }: GuardTask,
): Guard => {
  const chain = filters.map(({ type, set }) => placedFilter(type, set));
  const byRealisation = realisations.map((realisation) => ({
    id: realisation.id,
    ...guardFigures(buildChain(chain, realisation), scope, realisation.sampleRateHz),
  }));
  const worst = worstFigures(byRealisation);
  return {
    pilotHz: scope.pilotHz,
    windowHz: scope.windowHz,
    keepLowHz: scope.keepLowHz,
    keepHighHz: scope.keepHighHz,
    preEmphasisMicroseconds: scope.preEmphasisMicroseconds,
    lineUpDbfs: scope.lineUpDbfs,
    overDeviatingLineUpsDbfs: overDeviatingLineUps(scope),
    programme: usualProgramme,
    unfilteredPilotToProgrammeDb: pilotToProgrammeRange([], scope),
    limits: {
      pilotAttenuationAtLeastDb: scope.pilotAttenuationAtLeastDb,
      keepLossAtMostDb: scope.keepLossAtMostDb,
      keepLossAsAskedDb: scope.isKeepLossStated ? null : lossLimits.usualDb,
      riseAtMostDb: scope.riseAtMostDb,
    },
    byRealisation,
    worst,
    verdict: guardHolds(worst, scope) ? 'met' : 'falls-short',
  };
};
