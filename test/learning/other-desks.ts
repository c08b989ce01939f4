import { pick, type Random, whole } from './random-desks.js';
import { randomFrom, type SimulatedDesk } from './simulated-desk.js';

/** Knobs at random that are not of frequency, each from a formula that is written out here. */

const decimals = (value: number): number => Number(value.toFixed(6));

/** A quarter of a decibel at one decimal shows 0.3 and 0.8 between 0.5 and 1.0. */
const gain = (random: Random): SimulatedDesk => {
  const step = pick(random, [0.1, 0.2, 0.25, 0.5, 0.75, 1, 1.5]);
  const below = whole(random, 8, 24 / Math.max(step, 0.4));
  const above = pick(random, [below, below, whole(random, 4, 20)]);
  const values = Array.from({ length: below + above + 1 }, (_, at) => decimals((at - below) * step));
  const display = { decimals: step === 0.25 || step === 0.75 ? pick(random, [1, 2]) : 1, cuts: false };
  return { kind: 'gain', values, display, knob: 'gain' };
};

/** ISO 3:1973, one decade of R20, from memory. */
const r20 = [1, 1.12, 1.25, 1.4, 1.6, 1.8, 2, 2.24, 2.5, 2.8, 3.15, 3.55, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9];

const q = (random: Random): SimulatedDesk => {
  const [from, to] = [pick(random, [0.1, 0.2, 0.3, 0.4, 0.5]), pick(random, [6, 8, 10, 12, 16, 20])];
  const count = whole(random, 25, 100);
  const [name, values] = pick(random, [
    ['geometric', Array.from({ length: count }, (_, at) => from * (to / from) ** (at / (count - 1)))],
    [
      'R20',
      [0.1, 1, 10]
        .flatMap((decade) => r20.map((value) => decimals(value * decade)))
        .filter((value) => value >= from && value <= to),
    ],
    ['linear', Array.from({ length: Math.round((to - from) * 10) + 1 }, (_, at) => decimals(from + at / 10))],
  ] as const);
  const display = name === 'linear' ? { decimals: 1, cuts: false } : { decimals: 2, cuts: random() < 0.3 };
  return { kind: `q ${name}`, values, display, knob: 'q' };
};

const slope = (random: Random): SimulatedDesk => {
  const values = pick(random, [
    [6, 12, 18, 24],
    [12, 18, 24],
    [12, 24, 36, 48],
    [6, 12, 18, 24, 36, 48],
    [6, 12, 24, 48],
  ]);
  return { kind: 'slope', values, display: { decimals: 0, cuts: false }, knob: 'slope' };
};

const makers = [gain, q, gain, q, q, slope] as const;

/** A gain, a Q or a slope knob. */
export const randomOtherDesk = (seed: number): SimulatedDesk => {
  const random = randomFrom(Math.imul(seed + 1, 2654435761));
  for (let skipped = 0; skipped < 8; skipped++) random();
  const make = makers[seed % makers.length] ?? gain;
  return make(random);
};
