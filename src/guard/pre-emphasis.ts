import type { Db, Hz } from '../units/quantity.js';
import { db } from '../units/quantity.js';

/** The pre-emphasis time constants FM broadcasting uses (ITU-R BS.450: 50 µs; 47 CFR 73.317: 75 µs). */
export const usualPreEmphasesMicroseconds: readonly number[] = [50, 75];

/** Power gain of pre-emphasis: 1 + (2πfτ)², the admittance of a parallel RC (ITU-R BS.450). */
export const preEmphasisPower = (frequencyHz: number, microseconds: number): number =>
  1 + (2 * Math.PI * frequencyHz * microseconds * 1e-6) ** 2;

/** What pre-emphasis adds at a frequency, in dB, against its gain at low frequencies. */
export const preEmphasisDb = (frequencyHz: Hz, microseconds: number): Db =>
  db(10 * Math.log10(preEmphasisPower(frequencyHz, microseconds)));
