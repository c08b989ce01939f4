import { type Display, randomFrom, type SimulatedDesk } from './simulated-desk.js';

/** Desks at random, each from a formula that is written out here. */

export type Random = () => number;

export const pick = <Item>(random: Random, items: readonly Item[]): Item =>
  items[Math.floor(random() * items.length)] as Item;
export const whole = (random: Random, least: number, most: number): number =>
  least + Math.floor(random() * (most - least + 1));
const decimal = (random: Random, least: number, most: number, digits: number): number =>
  Number((least + random() * (most - least)).toPrecision(digits));

const ends = (random: Random): readonly [number, number] =>
  random() < 0.5
    ? [pick(random, [10, 16, 20, 25, 30, 40]), pick(random, [12000, 16000, 18000, 20000, 22000, 24000])]
    : [decimal(random, 10, 60, pick(random, [2, 3])), decimal(random, 11000, 24000, pick(random, [3, 4]))];

const frequencyDisplay = (random: Random, digits: number): Display => ({
  digits,
  kiloFrom: 1000,
  cuts: random() < 0.4,
});

const geometric = (random: Random): readonly number[] => {
  const [from, to] = ends(random);
  const count = whole(random, 31, 400);
  return Array.from({ length: count }, (_, at) => from * (to / from) ** (at / (count - 1)));
};

const perOctaveOrDecade = (random: Random): readonly number[] => {
  const [from, to] = ends(random);
  const [base, most] = pick(random, [
    [2, 24],
    [10, 80],
  ] as const);
  const steps = whole(random, 3, most);
  return Array.from({ length: 2000 }, (_, at) => from * base ** (at / steps)).filter(
    (value) => value <= to * (1 + 1e-9),
  );
};

const linear = (random: Random): readonly number[] => {
  const step = pick(random, [1, 2, 5, 10, 20, 25, 50, 100]);
  const from = whole(random, 10, 100);
  const count = whole(random, 40, Math.floor(20000 / step));
  return Array.from({ length: count }, (_, at) => from + at * step);
};

/** IEC 61260-1:2014, clause 5.4 and 5.5: 1000 · 10^(0.3 x / b), or with 2x + 1 over 2b where b is even. */
const octaves = (random: Random): readonly number[] => {
  const bands = pick(random, [1, 2, 3, 4, 5, 6, 8, 9, 12, 16, 18, 24, 36, 48]);
  const [from, to] = ends(random);
  return Array.from({ length: 40 * bands }, (_, at) => at - 20 * bands)
    .map((x) => 1000 * 10 ** (0.3 * (bands % 2 === 1 ? x / bands : (2 * x + 1) / (2 * bands))))
    .filter((value) => value >= from && value <= to);
};

/** ISO 3:1973, one decade of R40, from memory. */
const r40 = [
  1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3, 3.15,
  3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5,
];

const preferred = (random: Random): readonly number[] => {
  const stride = pick(random, [1, 2, 4]);
  const [from, to] = ends(random);
  return [10, 100, 1000, 10000]
    .flatMap((decade) =>
      r40.filter((_, at) => at % stride === 0).map((value) => Number((value * decade).toPrecision(6))),
    )
    .filter((value) => value >= from && value <= to);
};

const digitsOnly = (random: Random): readonly number[] => {
  const digits = pick(random, [2, 3]);
  const [from, to] = ends(random);
  const least = 10 ** (digits - 1);
  return [1, 2, 3, 4]
    .flatMap((power) =>
      Array.from({ length: 9 * least }, (_, at) => Number(`${least + at}e${power - digits + 1}`)),
    )
    .filter((value) => value >= from && value <= to);
};

/** Steps that grow by round factors at round places. */
const grown = (random: Random): readonly number[] => {
  const from = pick(random, [10, 20, 30, 40]);
  let step = pick(random, [0.5, 1, 2]);
  let at = from;
  const values = [from];
  for (const to of pick(random, [
    [100, 1000, 20000],
    [200, 2000, 10000, 20000],
    [100, 500, 1000, 5000, 20000],
    [1000, 20000],
  ])) {
    while (at < to - 1e-9) {
      at = Number((at + step).toFixed(1));
      values.push(at);
    }
    step *= pick(random, [5, 10]);
  }
  return values;
};

const list = (random: Random): readonly number[] => {
  const values = new Set<number>();
  const count = whole(random, 4, 14);
  while (values.size < count) values.add(decimal(random, 20, 18000, 2));
  return [...values].sort((a, b) => a - b);
};

const makers: readonly (readonly [string, (random: Random) => readonly number[]])[] = [
  ['geometric', geometric],
  ['ratio-steps', perOctaveOrDecade],
  ['linear', linear],
  ['octave-fraction', octaves],
  ['preferred-numbers', preferred],
  ['significant-digits', digitsOnly],
  ['piecewise-linear', grown],
  ['table', list],
];

/** A frequency knob of one kind after the other. */
export const randomFrequencyDesk = (seed: number): SimulatedDesk => {
  const random = randomFrom(seed * 7919 + 13);
  for (let skipped = 0; skipped < 8; skipped++) random();
  const [kind, make] = makers[seed % makers.length] as (typeof makers)[number];
  const values = make(random);
  // A screen that shows values of such grids shows them as they are.
  const isExact = ['linear', 'piecewise-linear', 'significant-digits'].includes(kind);
  const digits = pick(random, [3, 4]);
  const display = isExact
    ? { decimals: kind === 'linear' ? 0 : 1, cuts: random() < 0.4 }
    : frequencyDisplay(random, digits);
  return { kind, values, display, knob: 'frequency' };
};
