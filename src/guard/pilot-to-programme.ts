import { magnitudeSquared } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { powerRatio } from '../units/decibels.js';
import { type Db, db, type Hz } from '../units/quantity.js';
import type { GuardScope } from './guard-scope.js';
import { deviationPerFullScale, type Modulation, pilotDeviation, preEmphasisPower } from './modulation.js';
import { pinkShare } from './pink-share.js';
import { type Programme, powerAtPilot, type ToneProgramme, usualProgramme } from './programme.js';

/** What a ratio of pilot to programme is worked out for. */
export interface PilotSituation extends Modulation {
  /** Half-width of the window round the pilot. */
  readonly windowHz: Hz;
  readonly programme: Programme;
}

/**
 * Pilot over the programme that falls into the pilot's window in the composite, in dB: 10 log10 of the pilot's
 * mean square (9 % of deviation) over the programme's, after the chain and pre-emphasis. Negative where the
 * programme is the stronger; Infinity where none of it falls into the window.
 *
 * Sum and difference channel both reach the pilot, from the same stretch of the programme, pilot ± window (see
 * `landings`); `powerAtPilot` says what of it arrives for each stereo image, and why mono is the worst. The model
 * is linear: a transmitter's limiter and compander are not in it.
 *
 * `chain` is what one output's filters are for one way of building them, the same on both legs of a pair.
 */
export const pilotToProgrammeDb = (chain: readonly Section[], situation: PilotSituation): Db =>
  ratioDb(shareInWindow(chain, situation), situation);

/** The ratio for a share of the programme that falls into the window; Infinity for none. */
const ratioDb = (
  share: number,
  { programme, ...modulation }: Omit<PilotSituation, 'pilotHz' | 'windowHz'>,
): Db => {
  const arriving =
    meanSquareOfSine(deviationPerFullScale(modulation)) *
    powerRatio(programme.levelDbfs) *
    powerAtPilot(programme.image) *
    share;
  return db(10 * Math.log10(meanSquareOfSine(pilotDeviation) / arriving));
};

const meanSquareOfSine = (peak: number): number => (peak * peak) / 2;

/** The programme's power in the window, filters and pre-emphasis included, over all of its power without them. */
const shareInWindow = (chain: readonly Section[], situation: Omit<PilotSituation, 'lineUpDbfs'>): number => {
  const { programme, pilotHz, windowHz, preEmphasisMicroseconds } = situation;
  if (programme.kind === 'pink') {
    const window = { fromHz: pilotHz - windowHz, toHz: pilotHz + windowHz };
    return pinkShare(programme, window, chain, preEmphasisMicroseconds);
  }
  return Math.abs(programme.frequencyHz - pilotHz) <= windowHz
    ? toneGain(chain, programme, preEmphasisMicroseconds)
    : 0;
};

const toneGain = (
  chain: readonly Section[],
  { frequencyHz }: ToneProgramme,
  preEmphasisMicroseconds: number,
): number => {
  const gain = new Float64Array(1);
  magnitudeSquared(chain, Float64Array.of(frequencyHz), gain);
  const [power = Number.NaN] = gain;
  // A digital desk puts nothing out above half its sample rate, where its chain has no response.
  return Number.isNaN(power) ? 0 : power * preEmphasisPower(frequencyHz, preEmphasisMicroseconds);
};

type PilotScope = Pick<
  GuardScope,
  'pilotHz' | 'windowHz' | 'preEmphasisMicroseconds' | 'lineUpDbfs' | 'encoder'
>;

/** The least and the most of a figure over what is not known. */
export interface DbRange {
  readonly leastDb: Db;
  readonly mostDb: Db;
}

/**
 * `pilotToProgrammeDb` over every pre-emphasis and every line-up of a scope: what can be said where a rig tells
 * neither, after the encoder's own low-pass if it is known to have one. Null where nothing of the programme falls into the window.
 */
export const pilotToProgrammeRange = (
  chain: readonly Section[],
  { pilotHz, windowHz, preEmphasisMicroseconds, lineUpDbfs, encoder }: PilotScope,
  programme: Programme = usualProgramme,
): DbRange | null => {
  const figures = preEmphasisMicroseconds.flatMap((microseconds) => {
    const situation = { pilotHz, windowHz, preEmphasisMicroseconds: microseconds, programme };
    const share = shareInWindow([...chain, ...encoder], situation);
    return lineUpDbfs.map((each) => ratioDb(share, { ...situation, lineUpDbfs: each }));
  });
  const [leastDb, mostDb] = [Math.min(...figures), Math.max(...figures)];
  return Number.isFinite(mostDb) ? { leastDb: db(leastDb), mostDb: db(mostDb) } : null;
};

/** Of several ranges the worst: either end the least there is. Null, which is nothing in the window, is worse than none. */
export const worstRange = (ranges: readonly (DbRange | null)[]): DbRange | null => {
  const told = ranges.filter((range) => range !== null);
  return told.length === 0
    ? null
    : {
        leastDb: db(Math.min(...told.map(({ leastDb }) => leastDb))),
        mostDb: db(Math.min(...told.map(({ mostDb }) => mostDb))),
      };
};
