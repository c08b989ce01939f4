import { wholeRatio } from '../ratios.js';
import { extentOf, narrowed, type Region, withExactStep } from '../region.js';
import { digitsOf, simplestIn } from '../simplest.js';
import type { GridFamily, KnobEvidence } from './family.js';
import { explainLattice, openValues, type Saying } from './lattice.js';
import type { StepScale } from './placing.js';

const logarithmic: StepScale = { name: 'ratios', to: (value) => Math.log(value), from: Math.exp };

/** So far from a logarithm is still the same number. */
const tolerance = 1e-12;

const exactly = (value: number) => ({
  least: Math.log(value) - tolerance,
  most: Math.log(value) + tolerance,
});

/** How likable a number of steps is: whole steps to the octave or decade, tens, powers of two. */
const likingOf = (
  from: number,
  to: number,
  count: number,
): { readonly cost: number; readonly reasons: readonly string[] } => {
  const rounds = [...(digitsOf(from) <= 2 && digitsOf(to) <= 2 ? [`round ends, ${from} and ${to}`] : [])];
  const whole = wholeRatio(Math.log(to / from) / (count - 1));
  if (whole) return { cost: whole.isUsual ? 0 : 1, reasons: [whole.words, ...rounds] };
  if ((count - 1) % 10 === 0 || count % 10 === 0)
    return { cost: 0.5, reasons: [`a round number of steps, ${count}`, ...rounds] };
  return (count & (count - 1)) === 0
    ? { cost: 0.5, reasons: [`a power of two of steps, ${count}`, ...rounds] }
    : { cost: 1.5, reasons: rounds };
};

/** An end with more digits than the screen shows is a makeshift. */
const costOfUnseen = 1.5;

const costOfEnd = (end: number, shown: number): number =>
  digitsOf(end) + (digitsOf(end) > shown ? costOfUnseen : 0);

/** The most digits that anything on the screen has. */
const mostDigits = ({ readings }: KnobEvidence): number =>
  Math.max(...readings.map(({ text }) => text.replace(/^[^\d]*0*|\D/g, '').length));

/** Ends first one, then the other, as simple as they can be. */
const geometricSaying = (
  region: Region,
  first: number,
  last: number,
  fromFirst: boolean,
  shown: number,
): Saying | null => {
  const [one, other] = fromFirst ? [first, last] : [last, first];
  const near = simplestIn(openValues(region, one, logarithmic));
  const left = narrowed(region, one, exactly(near));
  if (left.length === 0) return null;
  const far = simplestIn(openValues(left, other, logarithmic));
  const [from, to] = fromFirst ? [near, far] : [far, near];
  if (!(to > from)) return null;
  const step = Math.log(to / from) / (last - first);
  const liking = likingOf(from, to, last - first + 1);
  return {
    spec: () => ({ kind: 'geometric', from, to, count: last - first + 1 }),
    line: { base: Math.log(from) - first * step, step },
    complexity: 2 + costOfEnd(from, shown) + costOfEnd(to, shown) + liking.cost,
    reasons: liking.reasons,
  };
};

/** 1/b octave: mid-bands of IEC 61260-1:2014, clause 5, 10^(3 + n / 20b) for n = 6x, or 6x + 3 where b is even. */
const octaveSaying = (region: Region, first: number, last: number, bands: number): Saying | null => {
  const step = (Math.LN10 * 6) / (20 * bands);
  const left = withExactStep(region, step);
  if (left.length === 0) return null;
  const low = extentOf(left, (line) => line.base + first * step);
  const offset = bands % 2 === 0 ? 3 : 0;
  const ordinal = (scaled: number) => ((scaled / Math.LN10 - 3) * 20 * bands - offset) / 6;
  const x = Math.ceil(ordinal(low.least) - 1e-9);
  if (x > ordinal(low.most) + 1e-9) return null;
  const bottom = Math.LN10 * (3 + (6 * x + offset) / (20 * bands));
  const top = bottom + (last - first) * step;
  const below = (scaled: number) => ({ least: Math.exp(scaled - 0.4 * step), most: Math.exp(scaled - 1e-9) });
  const above = (scaled: number) => ({ least: Math.exp(scaled + 1e-9), most: Math.exp(scaled + 0.4 * step) });
  const isUsual = [1, 2, 3, 6, 12, 24, 48, 96].includes(bands);
  return {
    spec: () => ({
      kind: 'octave-fraction',
      from: simplestIn(below(bottom)),
      to: simplestIn(above(top)),
      fraction: bands,
    }),
    line: { base: bottom - first * step, step },
    complexity: isUsual ? 2 : 4,
    reasons: [`the exact 1/${bands} octaves of IEC 61260-1`],
  };
};

const mostBands = 192;

const octaveSayings = (region: Region, first: number, last: number): readonly Saying[] => {
  const steps = extentOf(region, ({ step }) => step);
  const bandsAt = (step: number) => (Math.LN10 * 6) / (20 * step);
  const sayings: Saying[] = [];
  const most = Math.min(mostBands, Math.floor(bandsAt(steps.least) + 1e-9));
  for (let bands = Math.max(1, Math.ceil(bandsAt(steps.most) - 1e-9)); bands <= most; bands++) {
    const saying = octaveSaying(region, first, last, bands);
    if (saying) sayings.push(saying);
  }
  return sayings;
};

/** So many steps are looked for to the octave and to the decade. */
const mostSteps = { perOctave: 200, perDecade: 600 } as const;
const lengths = { perOctave: Math.LN2, perDecade: Math.LN10 } as const;

/** A whole number of steps to the octave or decade from a round start, wherever that ends. */
const ratioSaying = (
  region: Region,
  first: number,
  last: number,
  name: keyof typeof lengths,
  steps: number,
): Saying | null => {
  const step = lengths[name] / steps;
  const left = withExactStep(region, step);
  if (left.length === 0) return null;
  const from = simplestIn(openValues(left, first, logarithmic));
  const to = Math.log(from) + (last - first) * step;
  const isUsual = name === 'perOctave' ? steps <= 12 || steps % 12 === 0 : steps % 10 === 0;
  return {
    spec: () => ({
      kind: 'ratio-steps',
      from,
      to: simplestIn({ least: Math.exp(to - tolerance), most: Math.exp(to + 0.4 * step) }),
      [name]: steps,
    }),
    line: { base: Math.log(from) - first * step, step },
    // Two round ends are said more easily.
    complexity: 3.2 + digitsOf(from) + (isUsual ? 0 : 1.5),
    reasons: [`${steps} steps to the ${name === 'perOctave' ? 'octave' : 'decade'} from ${from}`],
  };
};

const ratioSayings = (region: Region, first: number, last: number): readonly Saying[] => {
  const { least, most } = extentOf(region, ({ step }) => step);
  return (['perOctave', 'perDecade'] as const).flatMap((name) => {
    const fewest = Math.max(1, Math.ceil(lengths[name] / most - 1e-9));
    const greatest = Math.min(mostSteps[name], Math.floor(lengths[name] / least + 1e-9));
    return Array.from({ length: Math.max(0, greatest - fewest + 1) }, (_, at) => fewest + at).flatMap(
      (steps) => ratioSaying(region, first, last, name, steps) ?? [],
    );
  });
};

/** Each click multiplies by the same: by a count between two ends, or by a fraction of the octave. */
export const equalRatios: GridFamily = {
  explain: (evidence) =>
    explainLattice(evidence, {
      scale: logarithmic,
      saysAll: false,
      say: (region, first, last, evidence) => {
        const shown = mostDigits(evidence);
        if (last === first) return [];
        const both = [
          geometricSaying(region, first, last, true, shown),
          geometricSaying(region, first, last, false, shown),
        ];
        return [
          ...both.flatMap((saying) => saying ?? []),
          ...octaveSayings(region, first, last),
          ...ratioSayings(region, first, last),
        ];
      },
    }),
};
