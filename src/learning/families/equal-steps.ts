import { decimalPlaces } from '../../quantisers/decimals.js';
import type { Interval } from '../reading.js';
import { extentOf, narrowed, type Region } from '../region.js';
import { digitsOf, simplestIn } from '../simplest.js';
import type { GridFamily, KnobEvidence } from './family.js';
import { explainLattice, openValues, type Saying } from './lattice.js';
import type { StepScale } from './placing.js';

const plain: StepScale = { name: 'steps', to: (value) => value, from: (scaled) => scaled };

/** A sum of decimals, as the decimal it is. */
const decimalSum = (start: number, times: number, step: number): number => {
  const places = Math.max(decimalPlaces(start), decimalPlaces(step));
  return Number((start + times * step).toFixed(Math.min(places, 20)));
};

/** A step with a place more than the screen shows is hardly a person's choice, nor one that is no one, two or five. */
const strangenessOf = (step: number, places: number): number =>
  (decimalPlaces(step) > places ? 1.5 : 0) +
  ([1, 2, 2.5, 5].includes(Number(step.toExponential().split('e')[0])) ? 0 : 0.5);

const saying = (from: number, step: number, first: number, last: number, places: number): Saying => {
  const to = decimalSum(from, last - first, step);
  return {
    spec: () => ({ kind: 'linear', from, to, step }),
    line: { base: from - first * step, step },
    complexity: 1 + 1.5 * digitsOf(step) + digitsOf(from) + digitsOf(to) * 0.5 + strangenessOf(step, places),
    reasons: [`a round step, ${step}`].filter(() => digitsOf(step) <= 2),
  };
};

const toleranceOf = (region: Region, at: number): number =>
  1e-12 * Math.max(1e-3, ...region.map(({ base, step }) => Math.abs(base + at * step)));

/** How many decimals the screen shows at most. */
const placesShown = ({ readings }: KnobEvidence): number =>
  Math.max(
    0,
    ...readings.map(({ ifRounded: { least, most } }) => Math.min(9, Math.round(-Math.log10(most - least)))),
  );

const mostDecimals = 60;

/** Decimals in an interval with at most so many places; fewer places where there would be too many of them. */
const decimalsIn = ({ least, most }: Interval, places: number): readonly number[] => {
  for (let power = places; power > -6; power--) {
    const [first, last] = [Math.ceil(least * 10 ** power - 1e-10), Math.floor(most * 10 ** power + 1e-10)];
    if (last - first < mostDecimals) {
      return Array.from({ length: Math.max(0, last - first + 1) }, (_, at) =>
        Number(`${first + at}e${-power}`),
      );
    }
  }
  return [];
};

/** Steps are decimals with at most one place more than the screen shows: people choose them so. */
const stepsIn = (steps: Interval, evidence: KnobEvidence): readonly number[] =>
  decimalsIn(steps, placesShown(evidence) + 1).filter((step) => step > 0);

/**
 * Starts are decimals too. They have a place more than the screen only where steps have it, or where nothing else fits,
 * and then only the simplest is tried.
 */
const decimalSayings = (
  region: Region,
  first: number,
  last: number,
  evidence: KnobEvidence,
): readonly Saying[] => {
  const places = placesShown(evidence);
  const { least, most } = extentOf(region, (line) => line.step);
  const step = simplestIn({ least: least * (1 - 1e-12), most: most * (1 + 1e-12) });
  const start = openValues(region, first, plain);
  const shown = decimalsIn(start, places).slice(0, 4);
  const simplest = simplestIn(start);
  const isFiner = shown.length === 0 || decimalPlaces(step) > places;
  const starts = new Set([...(isFiner && decimalPlaces(simplest) <= places + 1 ? [simplest] : []), ...shown]);
  return [...starts].map((from) => saying(from, step, first, last, places));
};

/** Ends of what is divided so are round. */
const mostDigitsOfEnds = 2;

/** More values than these nobody wants in a list. */
const mostListed = 2000;

/** Equal steps between round ends that are no decimals: thirty dB in 127 steps. Only a list can say them. */
const listSaying = (region: Region, first: number, last: number): Saying | null => {
  const from = simplestIn(openValues(region, first, plain));
  const tolerance = toleranceOf(region, first);
  const left = narrowed(region, first, { least: from - tolerance, most: from + tolerance });
  if (left.length === 0 || last - first >= mostListed) return null;
  const to = simplestIn(openValues(left, last, plain));
  if (digitsOf(from) > mostDigitsOfEnds || digitsOf(to) > mostDigitsOfEnds) return null;
  const step = (to - from) / (last - first);
  if (!(step > 0)) return null;
  return {
    spec: () => ({
      kind: 'table',
      values: Array.from({ length: last - first + 1 }, (_, at) =>
        Number((from + (to - from) * (at / (last - first))).toPrecision(9)),
      ),
    }),
    line: { base: from - first * step, step },
    complexity: 5 + digitsOf(from) + digitsOf(to),
    reasons: [`${last - first} equal steps from ${from} to ${to}`],
  };
};

/** Each click adds the same: a decimal, or a share of what lies between round ends. */
export const equalSteps: GridFamily = {
  explain: (evidence) => {
    const common = { scale: plain, saysAll: true } as const;
    const decimals = explainLattice(evidence, {
      ...common,
      stepsIn,
      say: (region, first, last) => (last === first ? [] : decimalSayings(region, first, last, evidence)),
    });
    const shares = explainLattice(evidence, {
      ...common,
      say: (region, first, last) => {
        const list = last === first ? null : listSaying(region, first, last);
        return list ? [list] : [];
      },
    });
    // Of shares only what is easily found is told: they are rare, and many readings leave many of them.
    return { explanations: [...decimals.explanations, ...shares.explanations], areMore: decimals.areMore };
  },
};
