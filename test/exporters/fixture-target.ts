import type { Target } from '../../src/model/target.js';
import { hz } from '../../src/units/quantity.js';

const bells = { frequency: 'frequency', q: 'q', gain: 'gain' };

/** The invented desk the fixture recipe was made for; its OSC encodings show every way a step travels. */
export const target: Target = {
  format: 'bandwright-target/1',
  id: 'four-bells',
  title: 'Invented desk: four bells and a cut section',
  provenance: 'Invented for tests.',
  outputs: { count: 12, stereo: 'legs-separate' },
  quantisers: {
    frequency: { kind: 'geometric', from: 22, to: 21000, count: 177 },
    q: { kind: 'geometric', from: 0.36, to: 12, count: 58 },
    gain: { kind: 'linear', from: -15, to: 10.5, step: 0.75 },
    slope: { kind: 'table', values: [12, 18, 24] },
    bandwidth: { kind: 'table', values: [0.33, 0.5, 1] },
  },
  slots: [
    { id: 'cut', types: { highpass: { frequency: 'frequency', slope: 'slope' } } },
    { id: '2', types: { peaking: bells, notch: { frequency: 'frequency', bandwidth: 'bandwidth' } } },
    { id: '3', types: { peaking: bells, lowshelf: { frequency: 'frequency', gain: 'gain' } } },
    {
      id: '4',
      types: {
        peaking: bells,
        lowpass: { frequency: 'frequency', q: 'q' },
        highshelf: { frequency: 'frequency', q: 0.33, gain: 'gain' },
      },
    },
  ],
  realisations: [{ id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) }],
  display: { typeLabels: { peaking: 'Para', lowshelf: 'Bass' } },
  evidence: { grid: 'untested', response: 'tested', push: 'known-bad' },
  osc: {
    transports: [{ kind: 'udp', port: 9000 }],
    addresses: {
      on: '/mix/{output}/filter/{slot}/on',
      type: '/mix/{output}/filter/{slot}/type',
      frequency: '/mix/{output}/filter/{slot}/frequency',
      q: '/mix/{output}/filter/{slot}/q',
      bandwidth: '/mix/{output}/filter/{slot}/bandwidth',
      gain: '/mix/{output}/filter/{slot}/gain',
      slope: '/mix/{output}/filter/{slot}/slope',
    },
    encodings: {
      on: { as: 'index', type: 'i' },
      type: { as: 'index', type: 'i', order: ['peaking', 'notch', 'lowshelf', 'highshelf', 'lowpass'] },
      frequency: { as: 'engineering', type: 'f' },
      q: { as: 'index', type: 'i' },
      bandwidth: { as: 'text', type: 's' },
      gain: { as: 'fraction', type: 'f' },
      slope: { as: 'engineering', type: 'i' },
    },
    read: 'same-address-without-arguments',
  },
};
