import { itemAt } from '../units/at.js';
import { acceptableLuck, luckOfAll } from './luck.js';
import type { KnobReadings, Reading } from './reading.js';
import { type KnownBeside, type Shape, shapesThatExplain } from './shapes.js';
import { type Hypothesis, without } from './without.js';

/** A hypothesis, what is left of the readings under it, and what explains that. */
export interface Trial {
  readonly hypothesis: Hypothesis;
  readonly kept: KnobReadings;
  readonly shapes: readonly Shape[];
  readonly areMore: boolean;
  /** The least that has to be believed: the simplest shape, and what was given up. */
  readonly cost: number;
}

/**
 * What it costs to believe that somebody misread, also once another reading was found right, and that somebody turned
 * farther than the list says.
 */
const [costOfWrong, costOnceSure, costOfApart] = [9, 14, 3];

/** Slopes are few, and read one after the other. */
const costOfApartSlopes = 8;

/**
 * An explanation so simple that nothing is given up for a simpler one. A list of values explains whatever was read, and a
 * count between odd ends much of it, so those are doubted sooner; stretches are only believed in where they take less to
 * say than the readings.
 */
const simpleEnough = ({ simplest: { spec } }: Shape): number => {
  switch (spec.kind) {
    case 'table':
      return 5;
    case 'geometric':
      return 10.5;
    case 'piecewise-linear':
      return Number.POSITIVE_INFINITY;
    default:
      return 13;
  }
};

/** More shapes than these are left to luck. */
const mostOnTrial = 12;

/** Fewer readings than these explain themselves whatever they are. */
const leastKept = 4;

/** Once a reading was found right when it was taken again, it takes more to doubt another. */
const leastKeptOnceSure = 6;

const mostPairsOf = 16;

/** Misread so many times: a stop that was written down again was not read again. */
const slips = ({ readings }: KnobReadings, { wrong }: Hypothesis): number =>
  wrong.filter(
    (at, index) =>
      !wrong.slice(0, index).some((before) => isSameStop(itemAt(readings, before), itemAt(readings, at))),
  ).length;

const trialOf = (all: KnobReadings, hypothesis: Hypothesis, known: KnownBeside): Trial => {
  const kept = without(all, hypothesis);
  const { shapes, areMore } = shapesThatExplain(kept, known);
  const [simplest] = shapes;
  const misread = all.readings.some(({ isSure }) => isSure) ? costOnceSure : costOfWrong;
  const given =
    slips(all, hypothesis) * misread +
    hypothesis.apart.length * (all.knob === 'slope' ? costOfApartSlopes : costOfApart);
  return {
    hypothesis,
    kept,
    shapes,
    areMore,
    cost: (simplest?.simplest.complexity ?? Number.POSITIVE_INFINITY) + given,
  };
};

const isTenable = ({ wrong }: Hypothesis, { readings }: KnobReadings): boolean =>
  wrong.length === 0 ||
  readings.length - wrong.length >= (readings.some(({ isSure }) => isSure) ? leastKeptOnceSure : leastKept);

const singles = ({ readings }: KnobReadings): readonly Hypothesis[] => [
  ...readings.flatMap(({ isClickAssumed, clicksUp }, at) =>
    isClickAssumed && clicksUp !== null ? [{ wrong: [], apart: [at] }] : [],
  ),
  ...readings.flatMap((reading, at) => {
    const same = readings.flatMap((each, other) => (isSameStop(each, reading) ? [other] : []));
    // A stop that was turned back to is one reading, however often it was written down.
    if (reading.isSure || (same.length > 0 && same[0] !== at)) return [];
    return [{ wrong: same.length > 0 ? same : [at], apart: [] }];
  }),
];

const isSameStop = (one: Reading, other: Reading): boolean =>
  one.stop !== null && one.stop === other.stop && one.text === other.text;

const both = (one: Hypothesis, other: Hypothesis): Hypothesis => ({
  wrong: [...one.wrong, ...other.wrong],
  apart: [...one.apart, ...other.apart],
});

const pairs = (each: readonly Hypothesis[]): readonly Hypothesis[] =>
  each.flatMap((one, at) => each.slice(at + 1).map((other) => both(one, other)));

/** Only so many are looked at closely, the cheapest: what is told of the others makes no difference. */
const mostCloselySeen = 6;

/** Those that explain what they keep, and not by luck: what the others say by luck is no reason to doubt anybody. */
const deservedly = (known: KnownBeside, trials: readonly Trial[]): readonly Trial[] =>
  trials
    .filter(
      ({ shapes, areMore, hypothesis: { wrong } }) =>
        shapes.length > 0 && (wrong.length === 0 || (!areMore && shapes.length <= mostOnTrial)),
    )
    .sort((a, b) => a.cost - b.cost)
    .slice(0, mostCloselySeen)
    .filter(({ hypothesis: { wrong }, shapes: [simplest], kept }) => {
      if (!simplest) return false;
      return wrong.length === 0 || (luckOfAll(kept, simplest, known) ?? 1) <= acceptableLuck;
    });

/**
 * What explains readings, with as little as possible given up: all of them as they stand; else without one that is wrong
 * or one click that was taken for granted; else without two. The cheapest first.
 */
export const hypothesesFor = (all: KnobReadings, known: KnownBeside): readonly [Trial, ...Trial[]] => {
  const asRead = trialOf(all, { wrong: [], apart: [] }, known);
  const nothingYet = asRead.shapes.length === 0 && asRead.areMore;
  const [shape] = asRead.shapes;
  if ((shape && asRead.cost <= simpleEnough(shape)) || nothingYet) return [asRead];
  const work = (hypotheses: readonly Hypothesis[]): readonly Trial[] =>
    deservedly(
      known,
      hypotheses
        .filter((hypothesis) => isTenable(hypothesis, all))
        .map((hypothesis) => trialOf(all, hypothesis, known)),
    );
  const ones = singles(all);
  const found = [...(asRead.shapes.length > 0 ? [asRead] : []), ...work(ones)];
  const twos = found.length === 0 && all.readings.length <= mostPairsOf ? work(pairs(ones)) : [];
  const ranked = [...found, ...twos].sort((a, b) => a.cost - b.cost);
  return ranked.length === 0 ? [asRead] : [itemAt(ranked, 0), ...ranked.slice(1)];
};
