import type { Received } from './decode.js';
import type { Stereo } from './stereo.js';

/** How long the difference channel takes to fade out or in: common practice, no source. */
const fadeSeconds = 0.05;

/**
 * How much of the difference channel a receiver lets through, g from 0 to 1, at every sample of its audio. While the lock indicator is on, g rises to 1, while it is
 * off, it falls to 0, in a straight line that takes 50 ms from end to end: a receiver that loses the pilot
 * goes mono, and comes back to stereo when it finds it. g starts at 0.
 */
export const stereoAmounts = ({ sum, track, factor, sampleRateHz }: Received): Float64Array => {
  const stepPerSample = 1 / (fadeSeconds * sampleRateHz);
  let amount = 0;
  return sum.map((_, i) => {
    amount += track.locked[i * factor] === 1 ? stepPerSample : -stepPerSample;
    amount = Math.min(1, Math.max(0, amount));
    return amount;
  });
};

/** Left and right as a listener gets them, M + gS and M − gS, for g as `stereoAmounts` has it. */
export const blended = (received: Received, amounts = stereoAmounts(received)): Stereo =>
  mixed(received, amounts);

/** Left and right of a receiver that never goes mono: M + S and M − S, whatever the pilot does. */
export const alwaysStereo = (received: Received): Stereo =>
  mixed(received, new Float64Array(received.sum.length).fill(1));

const mixed = (
  { sum, difference, sampleRateHz }: Pick<Received, 'sum' | 'difference' | 'sampleRateHz'>,
  amounts: Float64Array,
): Stereo => {
  const side = difference.map((sample, i) => sample * (amounts[i] as number));
  return {
    sampleRateHz,
    left: sum.map((sample, i) => sample + (side[i] as number)),
    right: sum.map((sample, i) => sample - (side[i] as number)),
  };
};
