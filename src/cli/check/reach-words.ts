import type { NearFrequency } from '../../fitting/reach/pilot-reach.js';

/** Beyond this nothing can be told apart by ear or meter: a notch at the pilot itself is endless on paper. */
const deepestShownDb = 100;

/** An attenuation in dB with one decimal; what is deeper than anybody could measure is only said to be. */
export const decibels = (attenuationDb: number): string =>
  attenuationDb > deepestShownDb ? `over ${deepestShownDb}` : attenuationDb.toFixed(1);

const signed = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : ''}${value.toFixed(decimals)}`;

/** How far a frequency lies from the pilot, in the three ways people say it: Hz, cents, per cent. */
export const offsetNumbers = ({
  offsetHz,
  offsetCents,
  offsetFraction,
}: NearFrequency): readonly string[] => [
  signed(offsetHz, 1),
  signed(offsetCents, 1),
  signed(100 * offsetFraction, 2),
];
