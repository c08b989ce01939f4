import { decimalPlaces } from '../../quantisers/decimals.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { itemAt } from '../../units/at.js';
import type { Reading } from '../reading.js';
import { digitsOf, simplestIn } from '../simplest.js';
import { costOfCount, type Explanation, type GridFamily, type KnobEvidence } from './family.js';
import { explainFixed } from './fixed-grid.js';

/**
 * Steps that change from stretch to stretch, as far as stretches were seen: where two readings one click apart stand. The
 * fewest stretches that explain them are tried, of values that the display shows as they are; where one gives way to the
 * next is open between the readings on either side of it.
 */
interface Stretch {
  readonly low: number;
  readonly high: number;
  readonly step: number;
}

/** Displayed values are decimals of a few places, so that a remainder is either none or far more than this. */
const wholeWithin = 1e-6;

const areWholeSteps = (from: number, to: number, step: number): boolean => {
  const steps = (to - from) / step;
  return Math.abs(steps - Math.round(steps)) < wholeWithin;
};

const difference = (low: number, high: number): number =>
  Number((high - low).toFixed(Math.max(decimalPlaces(low), decimalPlaces(high))));

const shown = ({ ifRounded }: Reading): number => simplestIn(ifRounded);

/** Every pair that clicks join, with what one click adds there. */
const pairsOf = ({ chains, readings }: KnobEvidence): readonly (Stretch & { readonly clicks: number })[] =>
  chains.flatMap((chain) => {
    const rising = [...chain].sort((a, b) => a.clicks - b.clicks);
    return rising.slice(1).flatMap((each, index) => {
      const before = itemAt(rising, index);
      const clicks = each.clicks - before.clicks;
      const [low, high] = [shown(itemAt(readings, before.at)), shown(itemAt(readings, each.at))];
      const step = Number((difference(low, high) / clicks).toPrecision(12));
      return high > low && clicks > 0 ? [{ low, high, step, clicks }] : [];
    });
  });

/**
 * Every pair one click apart, lowest first, joined where they go on in the same steps. Many clicks in such steps belong to
 * them too; in others they may have crossed a change.
 */
const stretchesOf = (evidence: KnobEvidence): readonly Stretch[] => {
  const pairs = pairsOf(evidence);
  const steps = new Set(pairs.filter(({ clicks }) => clicks === 1).map(({ step }) => step));
  const stretches: Stretch[] = [];
  for (const { low, high, step } of pairs
    .filter((pair) => steps.has(pair.step))
    .sort((a, b) => a.low - b.low)) {
    const last = stretches.at(-1);
    if (last && last.step === step && areWholeSteps(last.high, low, step)) {
      stretches[stretches.length - 1] = { ...last, high: Math.max(last.high, high) };
    } else stretches.push({ low, high, step });
  }
  return stretches;
};

/** So many places where a stretch may give way to the next are tried, the likeliest. */
const mostBreaks = 30;

/** How unlikely a place is to be where steps change: ones, twos and fives before others, few digits before many. */
const unlikeliness = (value: number): number => {
  const mantissa = Number(value.toExponential().split('e')[0]);
  return 2 * digitsOf(value) + (mantissa === 1 ? 0 : mantissa === 2 || mantissa === 5 ? 1 : 2);
};

/** Numbers of so many digits from one to another, both included, negative ones too. */
function* numbersOf(digits: number, from: number, to: number): Generator<number> {
  const size = Math.max(Math.abs(from), Math.abs(to));
  const [least, end] = [10 ** (digits - 1), 10 ** digits];
  for (let power = Math.floor(Math.log10(size)); power > Math.floor(Math.log10(size)) - 5; power--) {
    const unit = power - digits + 1;
    const one = Number(`1e${unit}`);
    for (
      let count = Math.max(1 - end, Math.ceil(from / one - 1e-9));
      count * one <= to + 1e-9 * size;
      count++
    ) {
      if (count >= end) break;
      // Divided, not multiplied by a fraction: that is the decimal itself.
      if (Math.abs(count) >= least || count === 0) yield unit < 0 ? count / 10 ** -unit : count * one;
    }
  }
}

interface Break {
  readonly at: number;
  readonly cost: number;
}

/** Where one stretch may give way to the next: values that both have. */
const breaksBetween = (below: Stretch, above: Stretch): readonly Break[] => {
  const found = new Set<number>(below.high === above.low ? [below.high] : []);
  for (const digits of [1, 2, 3]) {
    for (const at of numbersOf(digits, below.high, above.low)) {
      if (areWholeSteps(below.high, at, below.step) && areWholeSteps(at, above.low, above.step))
        found.add(at);
    }
    if (found.size >= mostBreaks) break;
  }
  return [...found]
    .map((at) => ({ at, cost: unlikeliness(at) }))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, mostBreaks);
};

const mostGrids = 48;

/** Choices of one break for each pair of neighbours, the likeliest first. */
const choices = (breaks: readonly (readonly Break[])[]): readonly (readonly number[])[] => {
  let all: readonly { readonly chosen: readonly number[]; readonly cost: number }[] = [
    { chosen: [], cost: 0 },
  ];
  for (const each of breaks) {
    all = all
      .flatMap((before) =>
        each.map(({ at, cost }) => ({ chosen: [...before.chosen, at], cost: before.cost + cost })),
      )
      .sort((a, b) => a.cost - b.cost)
      .slice(0, mostGrids);
  }
  return all.map(({ chosen }) => chosen);
};

const endsOf = ({ readings }: KnobEvidence): readonly [number, number] => {
  const values = readings.map(shown);
  return [Math.min(...values), Math.max(...values)];
};

/** Knobs step by ones, twos, halves and quarters, and have some hundred steps. */
const strangeness = (step: number): number => {
  const mantissa = Number(step.toExponential().split('e')[0]);
  return [1, 2, 2.5, 5].includes(mantissa) ? 1 : 1 + 1.5 * digitsOf(step);
};

/** A stretch of one step is hardly one. */
const costOfOneStep = 3;

/** Stretches that take more to say than the readings themselves are no rule. */
const [costOfStretches, worthOfReading] = [3, 1.5];

const explainedBy = (
  evidence: KnobEvidence,
  from: number,
  segments: readonly { readonly to: number; readonly step: number }[],
): readonly Explanation[] => {
  const spec = { kind: 'piecewise-linear', from, segments };
  const grid = makeQuantiser(spec);
  if (!grid.ok) return [];
  const complexity =
    costOfStretches +
    segments.reduce((sum, { to, step }, at) => {
      const start = segments[at - 1]?.to ?? from;
      return sum + 0.5 + digitsOf(to) + strangeness(step) + (to - start < 2 * step ? costOfOneStep : 0);
    }, 0) +
    costOfCount(grid.value.count);
  if (complexity > costOfStretches + worthOfReading * evidence.readings.length) return [];
  const reasons = [
    `steps that change at ${segments
      .slice(0, -1)
      .map(({ to }) => to)
      .join(' and ')}`,
  ];
  const say = () => ({ spec, complexity, reasons });
  return explainFixed({ name: JSON.stringify(spec), grid: grid.value, say }, evidence);
};

/** Runs of equal steps, two or more. */
export const grownSteps: GridFamily = {
  explain: (evidence) => {
    const stretches = stretchesOf(evidence);
    const [lowest, highest] = [stretches[0], stretches.at(-1)];
    if (!lowest || !highest || stretches.length < 2) return { explanations: [], areMore: false };
    const [from, to] = endsOf(evidence);
    if (!areWholeSteps(from, lowest.low, lowest.step) || !areWholeSteps(highest.high, to, highest.step)) {
      return { explanations: [], areMore: false };
    }
    const breaks = stretches.slice(1).map((above, at) => breaksBetween(itemAt(stretches, at), above));
    return {
      explanations: choices(breaks).flatMap((chosen) =>
        explainedBy(
          evidence,
          from,
          stretches.map(({ step }, at) => ({ to: chosen[at] ?? to, step })),
        ),
      ),
      areMore: false,
    };
  },
};
