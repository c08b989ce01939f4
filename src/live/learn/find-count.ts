import { makeLadder } from './ladder.js';
import { type Climbing, findNeighbour } from './neighbours.js';
import type { ProbedKnob, Probing } from './probing.js';

/** How many steps a knob has that tells where it stands, and not at which value. */
export interface CountFound {
  readonly count: number | null;
  /** Steps told beforehand that came so. */
  readonly right: number;
  readonly open: string | null;
}

/** More steps than a knob has that counts them. */
const beyondAll = 2 ** 20;

/** What a desk was seen to do with what it cannot take, so that it need not be tried again at every knob. */
export interface Habits {
  /** It stays where it is when it is sent a step beyond the last. */
  refusesSteps: boolean;
  /** It takes no text but those it shows. */
  refusesTexts: boolean;
}

/**
 * The last step of a knob that counts them from 0: what a step beyond all gives, or, where that is refused, by doubling
 * and halving. `known` is the greatest step that it was seen at; `bottomToo` looks whether it takes step 0.
 */
export function* findLastIndex(known: number, habits: Habits, bottomToo: boolean): Probing<CountFound> {
  let [taken, refused] = [known, beyondAll];
  if (!habits.refusesSteps) {
    const first = yield beyondAll;
    if (!Number.isInteger(first.value) || first.value >= beyondAll)
      return { count: null, right: 0, open: 'It takes any number as a step, so that no last one was found.' };
    // Where it moved it went to its last step, beyond which one more is tried to be sure.
    if (first.moved) [taken, refused] = [first.value, first.value + 2];
  }
  let right = 0;
  const takes = function* (index: number): Probing<boolean> {
    const isTaken = (yield index).value === index;
    if (isTaken) right++;
    return isTaken;
  };
  for (
    let index = Math.max(7, 2 * taken + 1);
    refused === beyondAll && index < beyondAll;
    index = 2 * index + 1
  ) {
    if (yield* takes(index)) taken = index;
    else refused = index;
  }
  while (refused - taken > 1) {
    const middle = Math.floor((taken + refused) / 2);
    if (yield* takes(middle)) taken = middle;
    else refused = middle;
  }
  if (bottomToo && !(yield* takes(0)))
    return {
      count: null,
      right,
      open: 'It does not take step 0, so that it does not count as the target says.',
    };
  habits.refusesSteps = refused < beyondAll;
  return { count: taken + 1, right, open: null };
}

/** So many steps at random come as the count says before it is believed. */
const enoughRight = 3;
/** How far a desk's own arithmetic may be from a step. */
const arithmetic = 2e-6;

/** The least number of steps from bottom to top on which all of these fractions lie. */
const stepsFor = (fractions: readonly number[], spacing: number): number | null => {
  const about = 1 / spacing;
  const slack = Math.max(1, Math.ceil(about * about * 2 * arithmetic));
  const from = Math.max(1, Math.round(about) - slack);
  for (let steps = from; steps <= Math.round(about) + slack; steps++) {
    const fits = fractions.every(
      (each) => Math.abs(each * steps - Math.round(each * steps)) <= arithmetic * steps * 2,
    );
    if (fits) return steps;
  }
  return null;
};

/** How many steps a knob has that tells where it stands as a share of its way, by two that are next to each other. */
export function* findFractionCount(knob: ProbedKnob, random: () => number): Probing<CountFound> {
  const ladder = makeLadder();
  ladder.stop('bottom', 0);
  ladder.stop('top', 1);
  ladder.add(knob.standing);
  const climbing: Climbing = { knob, ladder, spacing: 1 / 30, between: null, echoes: false };
  const stray = knob.asSent(0.4 + 0.2 * random());
  const { value } = yield stray;
  ladder.add(value);
  climbing.echoes = value === stray;
  const open = 'The fractions that were read lie on no even steps.';
  const next = yield* findNeighbour(climbing, value, 1);
  if (next === null) return { count: null, right: 0, open };
  const steps = stepsFor(ladder.values(), next - value);
  if (steps === null) return { count: null, right: 0, open };
  for (let right = 0; right < enoughRight; right++) {
    const index = Math.floor(random() * (steps + 1));
    const told = yield knob.asSent((index + (index < steps ? 0.2 : 0)) / steps);
    const expected = climbing.between === 'above' && index < steps ? index + 1 : index;
    if (Math.abs(told.value - expected / steps) > arithmetic) return { count: null, right, open };
  }
  return { count: steps + 1, right: enoughRight, open: null };
}
