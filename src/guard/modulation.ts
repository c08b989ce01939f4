import { amplitudeRatio } from '../units/decibels.js';
import { type Db, db, type Hz } from '../units/quantity.js';

/** The pre-emphasis time constants FM broadcasting uses (ITU-R BS.450: 50 µs; 47 CFR 73.317: 75 µs). */
export const usualPreEmphasesMicroseconds: readonly number[] = [50, 75];

/** Power gain of pre-emphasis: 1 + (2πfτ)², the admittance of a parallel RC (ITU-R BS.450). */
export const preEmphasisPower = (frequencyHz: number, microseconds: number): number =>
  1 + (2 * Math.PI * frequencyHz * microseconds * 1e-6) ** 2;

/** What pre-emphasis adds at a frequency, in dB, against its gain at low frequencies. */
export const preEmphasisDb = (frequencyHz: Hz, microseconds: number): Db =>
  db(10 * Math.log10(preEmphasisPower(frequencyHz, microseconds)));

/** What the programme may take of the deviation, the pilot left aside: 90 % (ITU-R BS.450, M and S ≤ 90 %). */
export const programmeDeviation = 0.9;

/** What the pilot takes of the deviation: 9 %, the middle of 8 to 10 % (47 CFR 73.322(a)(2); ITU-R BS.450). */
export const pilotDeviation = 0.09;

/** How a desk's signal drives a transmitter. */
export interface Modulation {
  readonly pilotHz: Hz;
  /** 0 for a link without pre-emphasis. */
  readonly preEmphasisMicroseconds: number;
  /** The level at which a 1 kHz sine, pre-emphasis included, takes 90 % of deviation; 0 dBFS is a full-scale sine. */
  readonly lineUpDbfs: Db;
}

/**
 * The line-ups worked out where nobody says which one a rig has: 0, −6 and −12 dBFS (common practice, no
 * source). They bracket what can sensibly be run with pink programme at −18 dBFS RMS, which 50 µs pre-emphasis
 * raises by 5.9 dB, 5.5 dB more than the line-up tone: at 0 dBFS its peaks, some 12 dB above its RMS, stay 3 dB
 * within 90 % of deviation; at −12 dBFS its RMS is already within 1 dB of a sine's at 90 %, and a limiter hardly rests.
 */
export const usualLineUpsDbfs: readonly Db[] = [db(0), db(-6), db(-12)];

const lineUpToneHz = 1000;

/**
 * Deviation (1 is all of it) per full scale of audio at low frequencies: what turns samples, once pre-emphasised,
 * into composite. The same for both channels and for one alone: M + S sin swings between left and right, so the
 * peak of the composite is the peak of the louder one.
 */
export const deviationPerFullScale = ({
  preEmphasisMicroseconds,
  lineUpDbfs,
}: Pick<Modulation, 'preEmphasisMicroseconds' | 'lineUpDbfs'>): number =>
  programmeDeviation /
  (amplitudeRatio(lineUpDbfs) * Math.sqrt(preEmphasisPower(lineUpToneHz, preEmphasisMicroseconds)));
