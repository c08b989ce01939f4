import type { ComparedDesk, ServedDesk } from './compared-desk.js';

/**
 * What tells one desk from a worse one, the weightiest first; the less the better in each. Common practice, no source:
 * the guard comes first, the music second.
 */
type Measure = (desk: ServedDesk) => number;

const isShort: Measure = ({ verdict }) => (verdict === 'falls-short' ? 1 : 0);

const missingCount: Measure = ({ missing }) => missing.length;

/**
 * Nobody hears less than half a decibel more or less of the top octave: within 0.5 dB, 1 dB, 1.5 dB and so on, of the
 * tenths that people are shown.
 */
const lossInHalfDecibels: Measure = ({ keepLossDb }) =>
  keepLossDb === null ? 0 : Math.max(0, Math.ceil(Math.round(10 * keepLossDb) / 5));

/** A decibel more or less at the pilot is less than one realisation differs from another. */
const pilotLeft: Measure = ({ pilot }) => (pilot === null ? 0 : -Math.round(pilot.attenuationDb));

const dialCount: Measure = ({ dials: { knobs, legsApart } }) => knobs * (legsApart ? 2 : 1);

/** Where the guard is met. */
const metMeasures: readonly Measure[] = [missingCount, pilotLeft, lossInHalfDecibels, dialCount];

/** Where it is not, whatever comes nearest to it is best. */
const shortMeasures: readonly Measure[] = [
  ({ short }) => short.pilotDb,
  ({ short }) => short.lossDb,
  ({ short }) => short.riseDb,
  ...metMeasures,
];

const byName = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const byIdThenName = (a: ComparedDesk, b: ComparedDesk): number =>
  byName(a.id, b.id) || byName(a.name, b.name);

const byService = (a: ServedDesk, b: ServedDesk): number => {
  const byGuard = isShort(a) - isShort(b);
  if (byGuard !== 0) return byGuard;
  const measures = a.verdict === 'falls-short' ? shortMeasures : metMeasures;
  return measures.map((measure) => measure(a) - measure(b)).find((difference) => difference !== 0) ?? 0;
};

/** Which of two desks serves the rig better: negative for the first. Desks it does not fit on come last. */
export const byMerit = (a: ComparedDesk, b: ComparedDesk): number => {
  if (a.fits && b.fits) return byService(a, b) || byIdThenName(a, b);
  if (a.fits !== b.fits) return a.fits ? -1 : 1;
  return byIdThenName(a, b);
};
