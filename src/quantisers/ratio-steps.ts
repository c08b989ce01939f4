import { itemAt } from '../units/at.js';
import { formatExact } from '../units/format.js';
import { limits } from '../units/generated/limits.js';
import { fail, ok, type Result } from '../units/result.js';
import { decimalPlaces, shiftedDecimal } from './decimals.js';
import { leastWhere, makeGrid } from './grid.js';
import { type ParameterRule, positiveEnd, rangeFault, readParameters } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/** So many decimals a number of steps may have: enough for what people say, few enough to count in integers. */
const mostPlaces = 6;

const stepsRule = ({ least, most }: { least: number; most: number }): ParameterRule<number> => ({
  allowed: `a number from ${least} to ${most} with at most ${mostPlaces} decimals`,
  accepts: (value): value is number =>
    typeof value === 'number' && value >= least && value <= most && decimalPlaces(value) <= mostPlaces,
});

/** What steps are counted in: its ratio's logarithm, and a value so many of them up, with nothing rounded. */
interface Stretch {
  readonly ln: number;
  above(from: number, stretches: number): number;
}

/** An octave is a doubling, which is exact in doubles; a decade moves the decimal point. */
const stretches: Readonly<Record<'perOctave' | 'perDecade', Stretch>> = {
  perOctave: { ln: Math.LN2, above: (from, octaves) => from * Number(1n << BigInt(octaves)) },
  perDecade: { ln: Math.LN10, above: shiftedDecimal },
};

/** Values that differ by less, relative to their size, differ by rounding only; steps lie far wider apart. */
const rounding = 1e-12;

/** The value k steps above `from`, for k from 0 to `most`. */
const valuesFrom = (from: number, steps: number, { ln, above }: Stretch, most: number) => {
  // Steps with decimals are counted in integers too: 6.6 to the octave are 66 to ten octaves.
  const places = decimalPlaces(steps);
  const [stepsInAll, stretchesInAll] = [shiftedDecimal(steps, places), shiftedDecimal(1, places)];
  const wholes = Array.from({ length: Math.ceil(most / steps) + 1 }, (_, done) => above(from, done));
  return (k: number): number => {
    const travelled = k * stretchesInAll;
    const done = Math.floor(travelled / stepsInAll);
    const rest = (travelled - done * stepsInAll) / stepsInAll;
    // Not `ratio ** …`: its last bit is not the same in all versions of V8.
    return itemAt(wholes, done) * Math.exp(rest * ln);
  };
};

interface Asked {
  readonly from: number;
  readonly to: number;
  readonly steps: number;
  readonly name: keyof typeof stretches;
}

const readAsked = (spec: object): Result<Asked, string> => {
  const rule = stepsRule(limits.ratioSteps);
  const rules = { from: positiveEnd, to: positiveEnd };
  const names = (['perOctave', 'perDecade'] as const).filter((name) => Object.hasOwn(spec, name));
  const [name, another] = names;
  if (another !== undefined) {
    return fail('"perOctave" and "perDecade" both say how far apart the steps lie; take one of them out.');
  }
  if (name === undefined) {
    const either = { ...rule, allowed: `${rule.allowed}, or "perDecade" in its place` };
    const read = readParameters(spec, { ...rules, perOctave: either, perDecade: rule });
    return read.ok ? ok({ ...read.value, steps: read.value.perOctave, name: 'perOctave' }) : read;
  }
  const read = readParameters(spec, { ...rules, [name]: rule } as typeof rules &
    Record<typeof name, typeof rule>);
  return read.ok ? ok({ ...read.value, steps: read.value[name], name }) : read;
};

/**
 * So many steps to the octave or to the decade, counted from the bottom stop: from · 2^(k / perOctave) or
 * from · 10^(k / perDecade) as long as that is not above `to`. Whole octaves or decades above `from` are exact. A `to`
 * that differs from a step by rounding only is that step; otherwise the grid ends below it.
 */
export const ratioSteps: QuantiserKind = {
  kind: 'ratio-steps',
  summary: 'equal ratios, so many to the octave or decade: from, to, perOctave or perDecade',
  create: (spec) => {
    const read = readAsked(spec);
    if (!read.ok) return read;
    const { from, to, steps, name } = read.value;
    const fault = rangeFault(from, to);
    if (fault !== null) return fail(fault);
    const stretch = stretches[name];
    const beyond = Math.ceil((Math.log(to / from) / stretch.ln) * steps) + 2;
    const valueOn = valuesFrom(from, steps, stretch, beyond);
    const count = leastWhere(1, beyond, (k) => valueOn(k) > to * (1 + rounding));
    if (count === 1) {
      return fail(
        `"to" is ${formatExact(to)}, below the first step above ${formatExact(from)}, which is ${formatExact(valueOn(1))}; raise it, or "${name}".`,
      );
    }
    const last = count - 1;
    const endsOnStep = Math.abs(valueOn(last) / to - 1) <= rounding;
    return ok(makeGrid(count, (k) => (k === last && endsOnStep ? to : valueOn(k))));
  },
};
