import { buildChain } from '../../../filters/build.js';
import { type Band, exceedsDb, sidesOf } from '../../../filters/extremes.js';
import type { Filter } from '../../../filters/filter.js';
import type { Realisation } from '../../../filters/realisation.js';
import type { Section } from '../../../filters/section.js';
import { keepBand, keepLossDb, riseBand, roundingDb, windowBand } from '../../../guard/guard-figures.js';
import type { GuardScope } from '../../../guard/guard-scope.js';
import { leastShownDb } from '../../response.js';

/** Stretches of a band in which all filters count, and those in which what stays is set aside and only the others do. */
export interface Stretches {
  readonly whole: readonly Band[];
  readonly beside: readonly Band[];
}

/** What settings are judged over, built one way: every frequency of these bands. */
export interface Judged {
  readonly realisation: Realisation;
  /** The filters that stay as they are. */
  readonly fixed: readonly Section[];
  /** From which loss on what they take is set aside; endless where it never is. */
  readonly asideFromDb: number;
  readonly window: Band;
  readonly keep: Stretches;
  readonly rise: Stretches;
  /** Whether what stays leaves so much of the limit on rise that filters which only cut cannot break it. */
  readonly hasRoomToRise: boolean;
}

/** In the keep band it is where what stays lets little through that it is set aside, in the rise band where it raises. */
const stretchesOf = (
  fixed: readonly Section[],
  band: Band,
  levelDb: number,
  isBesideAbove: boolean,
): Stretches => {
  if (levelDb === Number.NEGATIVE_INFINITY) return { whole: [band], beside: [] };
  const sides = sidesOf(fixed, band, levelDb);
  const those = (isBeside: boolean) =>
    sides.filter(({ isAbove }) => (isAbove === isBesideAbove) === isBeside).map((side) => side.band);
  return { whole: those(false), beside: those(true) };
};

/**
 * Where filters that no search moves take more by themselves than may be lost, what they take is set aside, and those
 * that move are held to the limit beside it. What a low cut takes at 80 Hz is no licence to take as much at 12 kHz. On
 * the way there, where it leaves less than anybody sees of the limit, it is set aside too: else the next to nothing that
 * a high cut takes at 100 Hz would break it.
 *
 * Where they alone rise above the scope's limit, those that move may add nothing.
 */
export const judgedOf = (
  filters: readonly Filter[],
  realisation: Realisation,
  scope: GuardScope,
  limitDb: number,
): Judged => {
  const fixed = buildChain(filters, realisation);
  const asideFromDb =
    keepLossDb(fixed, scope) > limitDb + roundingDb ? limitDb - leastShownDb : Number.POSITIVE_INFINITY;
  const wholeRise = riseBand(realisation.sampleRateHz);
  return {
    realisation,
    fixed,
    asideFromDb,
    window: windowBand(scope),
    keep: stretchesOf(fixed, keepBand(scope), -asideFromDb, false),
    rise: stretchesOf(fixed, wholeRise, scope.riseAtMostDb, true),
    hasRoomToRise: !exceedsDb(fixed, wholeRise, scope.riseAtMostDb - leastShownDb),
  };
};
