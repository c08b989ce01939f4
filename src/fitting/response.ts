import type { Realisation } from '../filters/realisation.js';

/** The curve an intent asks for: its analogue prototype, with the Q of the W3C Audio EQ Cookbook. */
export const analogue: Realisation = {
  id: 'analogue',
  design: 'analogue',
  qMeaning: 'cookbook',
  sampleRateHz: null,
};
