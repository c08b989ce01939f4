import type { Section } from '../filters/section.js';
import type { Hz } from '../units/quantity.js';
import { runAnalogue } from './run-analogue.js';
import type { Stereo } from './stereo.js';

/** One digital section run over samples from rest, in transposed direct form II. */
const runDigital = (samples: Float64Array, section: Section): Float64Array => {
  const { b0, b1, b2, a1, a2 } = section;
  let first = 0;
  let second = 0;
  return samples.map((sample) => {
    const out = b0 * sample + first;
    first = b1 * sample - a1 * out + second;
    second = b2 * sample - a2 * out;
    return out;
  });
};

/**
 * A chain of sections run over samples: digital ones as the desk would run them, analogue ones by their exact
 * response. Throws RangeError where a digital section is for another sample rate.
 */
export const runChain = (
  samples: Float64Array,
  sampleRateHz: Hz,
  chain: readonly Section[],
): Float64Array => {
  const digital = chain.filter(({ domain }) => domain === 'z');
  const stray = digital.find(({ rateHz }) => rateHz !== sampleRateHz);
  if (stray !== undefined) {
    throw new RangeError(`a section for ${stray.rateHz} Hz can't run at ${sampleRateHz} Hz`);
  }
  const analogue = chain.filter(({ domain }) => domain === 's');
  return runAnalogue(digital.reduce(runDigital, samples), sampleRateHz, analogue);
};

/** The same chain run over both channels. */
export const runChainOnBoth = ({ left, right, sampleRateHz }: Stereo, chain: readonly Section[]): Stereo => ({
  sampleRateHz,
  left: runChain(left, sampleRateHz, chain),
  right: runChain(right, sampleRateHz, chain),
});
