import type { Desk } from '../../model/desk.js';
import { makeDesk } from '../../model/make-desk.js';
import type { Outcome } from '../../model/problem.js';
import type { Target } from '../../model/target.js';
import { type Hz, hz } from '../../units/quantity.js';

/** What somebody read off a desk's screen: what a bell of it can be set to. */
export interface TypedKnobs {
  /** In any order. */
  readonly frequenciesHz: readonly Hz[];
  /** Single values, or anything from one to another. */
  readonly q: readonly number[] | { readonly from: number; readonly to: number };
  readonly gainDb: number;
}

/** How a desk that nobody described may build its filters: as the cookbook has it, as others do near half the rate. */
export const usualRealisations: Target['realisations'] = [
  { id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  { id: 'cookbook-96k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(96000) },
  { id: 'classic-48k', design: 'cookbook', qMeaning: 'classic', sampleRateHz: hz(48000) },
  { id: 'classic-96k', design: 'cookbook', qMeaning: 'classic', sampleRateHz: hz(96000) },
  { id: 'matched-48k', design: 'matched', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  { id: 'nyquist-48k', design: 'nyquist-gain', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
];

const rising = (values: readonly number[]): readonly number[] => [...new Set(values)].sort((a, b) => a - b);

/**
 * A desk of one bell, from a few values that were typed, built in every usual way. Problems: as `makeDesk`: values that are
 * no frequency, Q or gain of a filter.
 */
export const typedDesk = ({ frequenciesHz, q, gainDb }: TypedKnobs): Outcome<Desk> =>
  makeDesk({
    format: 'bandwright-target/1',
    id: 'typed',
    title: 'A bell at the values that were typed',
    provenance: 'Typed on the command line.',
    outputs: { count: 1, stereo: 'legs-separate' },
    quantisers: {
      frequency: { kind: 'table', values: rising(frequenciesHz) },
      q: 'from' in q ? { kind: 'continuous', ...q } : { kind: 'table', values: rising(q) },
      gain: { kind: 'table', values: [gainDb] },
    },
    slots: [{ id: '1', types: { peaking: { frequency: 'frequency', q: 'q', gain: 'gain' } } }],
    realisations: usualRealisations,
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  });
