import type { ResponseView } from '../../src/drawing/response-view.js';

/** A straight line in dB over frequency, so that every place follows by hand: 0 dB, but one point of -40 dB at 19 kHz. */
export const frequenciesHz: readonly number[] = Array.from({ length: 23_981 }, (_, index) => index + 20);
export const flat: readonly number[] = frequenciesHz.map(() => 0);
const notched = frequenciesHz.map((frequencyHz) => (frequencyHz === 19_000 ? -40 : 0));

/** Its filters as a view. */
export const flatView: ResponseView = {
  title: '',
  description: '',
  frequenciesHz,
  asked: flat,
  set: { levelsDb: notched, lowestDb: notched, highestDb: notched },
  byHand: null,
  ways: { count: 1, drawn: 'one' },
  guard: {
    pilotHz: 19_000,
    windowHz: 100,
    attenuationAtLeastDb: 20,
    keepLowHz: 80,
    keepHighHz: 12_000,
    keepLossAtMostDb: 3,
    linkEndsHz: 15_000,
  },
  places: { count: 2, frequenciesHz: [18_000, 19_000], setHz: [19_000] },
};

type Guard = NonNullable<ResponseView['guard']>;

/** The same with a pilot elsewhere, or another guard. */
export const guardAt = (pilotHz: number, windowHz: number, more: Partial<Guard> = {}): ResponseView => {
  if (!flatView.guard) throw new Error('no guard');
  return { ...flatView, guard: { ...flatView.guard, pilotHz, windowHz, ...more } };
};
