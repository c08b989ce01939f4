import type { FilterJson, GuardJson } from './shapes.js';

/*
 * The guard's figures worked out anew, in complex arithmetic on the analogue prototypes of the W3C Audio EQ
 * Cookbook (Note of 8 June 2021), moved by its bilinear transform: s = j tan(π f / fs) / tan(π f0 / fs).
 */

type Complex = readonly [re: number, im: number];

const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];

/** a s² + b s + c. */
const square = (s: Complex, a: number, b: number, c: number): Complex => {
  const [re, im] = times(s, s);
  return [a * re + b * s[0] + c, a * im + b * s[1]];
};

const size = ([re, im]: Complex): number => Math.hypot(re, im);

/** |H| of one section at s. */
type Section = (s: Complex) => number;

/** Numerator over denominator, three factors each. */
const ratio =
  (top: readonly [number, number, number], bottom: readonly [number, number, number]): Section =>
  (s) =>
    size(square(s, ...top)) / size(square(s, ...bottom));

/** Q of the second-order sections of a Butterworth filter of order N: 1 / (2 sin((2k − 1) π / 2N)). */
const butterworthQs = (order: number): readonly number[] =>
  Array.from(
    { length: Math.floor(order / 2) },
    (_, k) => 1 / (2 * Math.sin(((2 * k + 1) * Math.PI) / (2 * order))),
  );

/** Linkwitz-Riley of order 2N is Butterworth of order N, twice. */
const cutSections = (type: string, slopeDbPerOctave: number, family: unknown): readonly Section[] => {
  const isTwice = family === 'linkwitz-riley';
  const order = slopeDbPerOctave / 6 / (isTwice ? 2 : 1);
  const second = butterworthQs(order).map((q) => cut(type, q));
  const first: Section = ratio(type === 'highpass' ? [0, 1, 0] : [0, 0, 1], [0, 1, 1]);
  const once = [...second, ...(order % 2 === 1 ? [first] : [])];
  return isTwice ? [...once, ...once] : once;
};

const cut = (type: string, q: number): Section =>
  ratio(type === 'highpass' ? [1, 0, 0] : [0, 0, 1], [1, 1 / q, 1]);

/** How a desk builds: its sample rate, and whether it reads octaves by the analogue relation of the Cookbook. */
export interface Building {
  readonly rateHz: number;
  readonly readsOctavesPlainly: boolean;
}

/** 1/Q = 2 sinh(ln 2 / 2 · BW · ω0 / sin ω0), the Cookbook's relation for the bilinear transform; plainly without ω0 / sin ω0. */
const qOfBandwidth = (
  octaves: number,
  frequencyHz: number,
  { rateHz, readsOctavesPlainly }: Building,
): number => {
  const w0 = (2 * Math.PI * frequencyHz) / rateHz;
  return 1 / (2 * Math.sinh((Math.LN2 / 2) * octaves * (readsOctavesPlainly ? 1 : w0 / Math.sin(w0))));
};

const sectionsOf = ({ type, set }: FilterJson, building: Building): readonly Section[] => {
  const value = (name: string): number | undefined => (typeof set[name] === 'number' ? set[name] : undefined);
  const slope = value('slopeDbPerOctave');
  const octaves = value('bandwidthOctaves');
  const q =
    value('q') ?? (octaves === undefined ? undefined : qOfBandwidth(octaves, set.frequencyHz, building));
  const a = 10 ** ((value('gainDb') ?? 0) / 40);
  const root = Math.sqrt(a);
  // A shelf that tells no Q has the slope S = 1, which is Q = 1/√2 at any gain.
  const width = 1 / (q ?? Math.SQRT1_2);
  switch (type) {
    case 'highpass':
    case 'lowpass':
      return slope === undefined ? [cut(type, 1 / width)] : cutSections(type, slope, set.family);
    case 'peaking':
      return [ratio([1, a * width, 1], [1, width / a, 1])];
    case 'notch':
      return [ratio([1, 0, 1], [1, width, 1])];
    case 'lowshelf':
      return [(s) => a * ratio([1, root * width, a], [a, root * width, 1])(s)];
    case 'highshelf':
      return [(s) => a * ratio([a, root * width, 1], [1, root * width, a])(s)];
    default:
      throw new Error(`no prototype of a ${type} here`);
  }
};

/** |H| in dB of all filters one after the other, as a function of frequency. */
export const chainDb = (
  filters: readonly FilterJson[],
  building: Building,
): ((frequencyHz: number) => number) => {
  const { rateHz } = building;
  const chain = filters.flatMap((placed) =>
    sectionsOf(placed, building).map((section) => {
      const warped = Math.tan((Math.PI * placed.set.frequencyHz) / rateHz);
      return (tan: number) => section([0, tan / warped]);
    }),
  );
  return (frequencyHz) => {
    const tan = Math.tan((Math.PI * frequencyHz) / rateHz);
    return 20 * Math.log10(chain.reduce((product, sizeAt) => product * sizeAt(tan), 1));
  };
};

/** 480 points to the octave from the lower end, and the upper end: no filter here has a peak they miss by much. */
const perOctave = (fromHz: number, toHz: number): readonly number[] => {
  const steps = Math.floor(480 * Math.log2(toHz / fromHz) + 1e-9);
  return [...Array.from({ length: steps + 1 }, (_, k) => fromHz * 2 ** (k / 480)), toHz];
};

const spread = (fromHz: number, toHz: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, k) => fromHz + ((toHz - fromHz) * k) / (count - 1));

/** Pink programme after pre-emphasis, S(f) = (1 + (2πfτ)²) / f, by the midpoint rule, 1 Hz wide. */
const guardBandDb = (
  levelDb: (frequencyHz: number) => number,
  rateHz: number,
  microseconds: number,
): number => {
  let [without, withChain] = [0, 0];
  for (let f = 15000.5; f < Math.min(23000, rateHz / 2); f++) {
    const power = (1 + (2 * Math.PI * f * microseconds * 1e-6) ** 2) / f;
    without += power;
    withChain += power * 10 ** (levelDb(f) / 10);
  }
  return 10 * Math.log10(without / withChain);
};

/**
 * Pilot over the pink noise in its window: −18 dBFS RMS in both channels alike from 20 Hz to 20 kHz (ln 1000), a
 * full-scale sine of 1 kHz at 90 % of deviation, the pilot at 9 %. By the midpoint rule, a tenth of a hertz wide.
 */
const pilotToProgrammeDb = (
  levelDb: (frequencyHz: number) => number,
  { pilotHz, windowHz }: GuardJson,
  microseconds: number,
): number => {
  const emphasis = (f: number) => 1 + (2 * Math.PI * f * microseconds * 1e-6) ** 2;
  let share = 0;
  for (let f = pilotHz - windowHz + 0.05; f < pilotHz + windowHz; f += 0.1) {
    share += (0.1 * (emphasis(f) / f) * 10 ** (levelDb(f) / 10)) / Math.log(1000);
  }
  return 10 * Math.log10(0.09 ** 2 / (((0.9 ** 2 * 10 ** -1.8) / emphasis(1000)) * share));
};

/** Over the pre-emphases and line-ups that the guard names; a line-up so much lower drives the link so much harder. */
const programmeRange = (levelDb: (frequencyHz: number) => number, guard: GuardJson) => {
  const all = guard.preEmphasisMicroseconds.flatMap((microseconds) => {
    const figure = pilotToProgrammeDb(levelDb, guard, microseconds);
    return guard.lineUpDbfs.map((lineUp) => figure + lineUp);
  });
  return { leastDb: Math.min(...all), mostDb: Math.max(...all) };
};

/** The figures of a guard for a desk that builds its filters by the Cookbook at a sample rate. */
export const guardFigures = (filters: readonly FilterJson[], guard: GuardJson, building: Building) => {
  const { rateHz } = building;
  const levelDb = chainDb(filters, building);
  const most = (points: readonly number[]) => Math.max(...points.map(levelDb));
  const least = (points: readonly number[]) => Math.min(...points.map(levelDb));
  return {
    pilotAttenuationDb: -most(spread(guard.pilotHz - guard.windowHz, guard.pilotHz + guard.windowHz, 201)),
    keepLossDb: -least(perOctave(guard.keepLowHz, guard.keepHighHz)),
    riseDb: most(perOctave(20, Math.min(20000, 0.499 * rateHz))),
    guardBandDb: Math.min(...guard.preEmphasisMicroseconds.map((each) => guardBandDb(levelDb, rateHz, each))),
    pilotToProgrammeDb: programmeRange(levelDb, guard),
  };
};
