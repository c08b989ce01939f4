import type { Knob } from '../model/knob.js';
import { itemAt } from '../units/at.js';
import { bestCheck, neededToSettle } from './check-reading.js';
import { resolvable } from './displayed.js';
import { explore, farther, otherEndClicked } from './explore.js';
import { hypothesesFor, type Trial } from './hypotheses.js';
import type { Candidate, Learned, NextReading, Suspect } from './learned.js';
import { acceptableLuck, luckOfAll } from './luck.js';
import { bestSplit } from './plan-reading.js';
import type { End, KnobReadings, Reading } from './reading.js';
import { type KnownBeside, neighboursIn, type Shape } from './shapes.js';

/** What is known beside the readings. */
export interface LearnOptions extends KnownBeside {
  /** The pilot whose neighbourhood matters most: 19 kHz where it is left out. */
  readonly pilotHz?: number | undefined;
}

const usualPilotHz = 19_000;

const candidateOf = (shape: Shape, knob: KnobReadings['knob'], pilotHz: number): Candidate => {
  const { spec, count, openEnds, complexity, reasons } = shape.simplest;
  return {
    spec,
    count,
    openEnds,
    lastDigit: [...new Set(shape.byLastDigit.map(({ lastDigit }) => lastDigit))],
    nextToPilot: knob === 'frequency' ? neighboursIn(shape, pilotHz) : null,
    reasons: [...new Set([...reasons, ...shape.alsoKnownAs.flatMap((each) => each.reasons)])],
    complexity,
  };
};

const isWholeList = (shape: Shape): boolean =>
  [shape.simplest, ...shape.alsoKnownAs].some(({ reasons }) => reasons.includes('every value was read'));

/** The end of a knob's travel that matters most, to begin with. */
const firstEndOf = (knob: Knob): End => (knob === 'frequency' ? 'top' : 'bottom');

const nothingRead = (knob: Knob): Learned => ({
  candidates: [],
  areMore: true,
  suspects: [],
  otherSuspects: [],
  apart: [],
  next: { do: { kind: 'stop', end: firstEndOf(knob) }, leaves: null },
  isSettled: false,
  luck: null,
});

/** A reading that has to be taken whatever the others say; null where none has. */
const neededReading = ({ knob, readings }: KnobReadings): NextReading | null => {
  const has = (stop: Reading['stop']) => readings.some((reading) => reading.stop === stop);
  const firstEnd = firstEndOf(knob);
  const otherEnd = firstEnd === 'top' ? 'bottom' : 'top';
  if (!has(firstEnd) && !has(otherEnd)) return { do: { kind: 'stop', end: firstEnd }, leaves: null };
  const isClicked = readings.some(({ clicksUp }) => clicksUp !== null && clicksUp !== 0);
  const from = readings.find(({ stop }) => stop === firstEnd) ?? readings.find(({ stop }) => stop !== null);
  if (!isClicked && from) {
    return { do: { kind: 'clicks', from, clicksUp: from.stop === 'top' ? -1 : 1 }, leaves: null };
  }
  if (!has(firstEnd)) return { do: { kind: 'stop', end: firstEnd }, leaves: null };
  if (!has(otherEnd)) return { do: { kind: 'stop', end: otherEnd }, leaves: null };
  return null;
};

/** With more shapes left than these, what tells most is plain: what one click does at the other end, or many clicks. */
const tooMany = 40;

/** A click that was taken for granted and does not fit is turned again before anything is built on it. */
const clickAgain = ({ readings }: KnobReadings, at: number): NextReading | null => {
  const from = readings[at - 1];
  const clicksUp = readings[at]?.clicksUp ?? null;
  return from && clicksUp !== null ? { do: { kind: 'clicks', from, clicksUp }, leaves: null } : null;
};

const suspectsOf = ({ readings }: KnobReadings, { hypothesis }: Trial): readonly Suspect[] =>
  hypothesis.wrong.map((at) => ({ at, reading: itemAt(readings, at) }));

/** Suspects that cost about as much to believe in as the first. */
const nearlyAsCheap = 1.5;

/**
 * What readings tell of a knob's grid: every grid of the kinds known here that explains them all within what the screen
 * shows, worked out with intervals, so that what contradicts a reading is out; and the next reading that would tell most.
 * No reading rules out a knob that follows no rule, nor a stretch with other steps where nothing was read.
 */
export const learnGrid = (asRead: KnobReadings, options: LearnOptions = {}): Learned => {
  const all = resolvable(asRead);
  const pilotHz = options.pilotHz ?? usualPilotHz;
  if (all.readings.length === 0) return nothingRead(all.knob);
  const [best, ...others] = hypothesesFor(all, options);
  const suspects = suspectsOf(all, best);
  const { shapes, areMore, kept } = best;
  const [shape] = shapes;
  const suspect = suspects[0];
  const again: NextReading | null = suspect
    ? { do: { kind: 'again', reading: suspect.reading }, leaves: null }
    : null;
  const apart = best.hypothesis.apart[0];
  const needed = again ?? neededReading(kept) ?? (apart === undefined ? null : clickAgain(all, apart));
  const unbroken = shapes.filter(({ simplest }) => simplest.spec.kind !== 'piecewise-linear');
  const widen =
    areMore || unbroken.length > tooMany ? (otherEndClicked(kept) ?? farther(kept.readings)) : null;
  const split = needed ?? widen ?? (shape ? bestSplit(kept, shapes, pilotHz) : null);
  const isOpen = split !== null || shape === undefined;
  const isList = shape !== undefined && isWholeList(shape);
  const luck = !isOpen && shape ? (isList ? 0 : luckOfAll(kept, shape, options)) : null;
  const isChecked =
    luck !== null && luck <= acceptableLuck && (isList || !shape || neededToSettle(kept, shape) === null);
  const isSettled = !isOpen && isChecked;
  const search = shape ? null : explore(kept.readings);
  const check = !isOpen && !isSettled && shape ? bestCheck(kept, shape) : null;
  return {
    candidates: shapes.map((each) => candidateOf(each, all.knob, pilotHz)),
    areMore,
    suspects,
    otherSuspects: others
      .filter(
        ({ cost, hypothesis }) =>
          suspects.length > 0 && hypothesis.wrong.length > 0 && cost - best.cost <= nearlyAsCheap,
      )
      .flatMap((each) => suspectsOf(all, each))
      .filter(({ at }) => suspects.every((each) => each.at !== at)),
    apart: best.hypothesis.apart,
    next: split ?? check ?? search,
    isSettled,
    luck,
  };
};
