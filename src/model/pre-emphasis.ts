import { inUnit } from './link-limits.js';

/**
 * The pre-emphasis time constants there are: 50 µs (ITU-R BS.450), 75 µs (47 CFR 73.317); 25 µs and none in a few
 * links (from memory).
 */
export const knownPreEmphasesMicroseconds: readonly number[] = [0, 25, 50, 75];

/** The same in words, as a sentence ends. */
export const knownPreEmphasesText = '50 or 75, in few links 25 or 0';

/** 1 µs adds 0.06 dB at 19 kHz (ITU-R BS.450's curve): less than that is a slip, or none at all. */
const leastMicroseconds = 1;

/** What a time constant may come to in microseconds to be recognised in another unit. Common practice, no source. */
const recognisedMicroseconds = { least: 10, most: 150 };

const otherUnits = [
  { words: 'milliseconds', microseconds: 1e3 },
  { words: 'seconds', microseconds: 1e6 },
] as const;

/** Why a number cannot be a pre-emphasis in microseconds, and what to write; null where it can. */
export const preEmphasisFault = (told: number): string | null => {
  if (told === 0 || told >= leastMicroseconds) return null;
  for (const { words, microseconds } of otherUnits) {
    const meant = inUnit(told, microseconds);
    if (meant >= recognisedMicroseconds.least && meant <= recognisedMicroseconds.most) {
      return `Pre-emphasis is told in microseconds. ${told} is too little for that; that is ${meant} microseconds in ${words}: write ${meant}.`;
    }
  }
  return `Pre-emphasis is told in microseconds: 0 for none, or at least ${leastMicroseconds}, not ${told}. Usual are ${knownPreEmphasesText}.`;
};

/** The usual pre-emphasis that one so far from it was most likely meant for: a digit too many, or the point misplaced. */
export const tenfoldMeant = (microseconds: number): number | undefined =>
  knownPreEmphasesMicroseconds.find(
    (known) => known > 0 && (microseconds === known * 10 || microseconds * 10 === known),
  );
