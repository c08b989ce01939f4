import type { Hz } from '../units/quantity.js';

/**
 * How a filter may be turned into sections:
 * `cookbook`: bilinear transform with frequency pre-warping (W3C Audio EQ Cookbook);
 * `matched`: Vicanek 2016; `nyquist-gain`: Orfanidis 1997; `analogue`: the prototype itself.
 */
export const designNames = ['cookbook', 'matched', 'nyquist-gain', 'analogue'] as const;

/** One of the designs. */
export type DesignName = (typeof designNames)[number];

/**
 * What a desk means by the number on the Q (or bandwidth) knob of a bell of gain G = A²:
 * `cookbook`: A·Q is the classic Q (W3C Audio EQ Cookbook), a lift (a gain above 0 dB) and a cut mirror each other;
 * `classic`: Q of the pole pair of a lift, cuts the mirror of lifts;
 * `constant-bandwidth`: Q of the pole pair, lift or cut, so that what is added or taken away is f/Q wide
 * whatever the gain.
 * `widths.ts` has the conversions and their sources.
 */
export const qMeanings = ['cookbook', 'classic', 'constant-bandwidth'] as const;

/** One of the meanings of Q. */
export type QMeaning = (typeof qMeanings)[number];

/**
 * How a width in octaves is read: `digital` by the cookbook's formula for filters made by the bilinear transform, which
 * holds the width however near half the sample rate; `analogue` by the plain relation of bandwidth and Q.
 */
export const bandwidthMeanings = ['digital', 'analogue'] as const;

/** One of the two. */
export type BandwidthMeaning = (typeof bandwidthMeanings)[number];

/** One way a desk may build its filters. `sampleRateHz` is null for the analogue prototype only. */
export interface Realisation {
  readonly id: string;
  readonly design: DesignName;
  readonly qMeaning: QMeaning;
  /** As the design usually reads it unless given: the cookbook's digitally, every other's by the plain relation. */
  readonly bandwidthMeaning?: BandwidthMeaning;
  readonly sampleRateHz: Hz | null;
}
