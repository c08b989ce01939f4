import type { End } from '../../learning/reading.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { nearestStep } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';
import { gridsExplaining, type Recognise, type ValueKnob, type ValuesFound } from './grids-left.js';
import { type Ladder, makeLadder } from './ladder.js';
import type { Probing } from './probing.js';

/*
 * A desk that takes texts, and only those that it shows itself: nothing can be halved, since whatever lies between two
 * steps is refused. Texts are tried one after the other beside a place that matters, and what those that are taken have in
 * common tells which to try elsewhere.
 */

/** More texts than this are not tried between two that are taken. */
const mostTexts = 45;
const enoughRight = 5;
/** Grids that are tried before it is given up. */
const mostGrids = 8;
const mostEarlyGrids = 3;

/** Whether a knob takes a value; noted where it does. */
function* takes(ladder: Ladder, value: number): Probing<boolean> {
  const answer = yield value;
  if (answer.value === value) ladder.add(value);
  return answer.value === value;
}

/** The next text a knob takes beside one that it takes. */
function* nextText(knob: ValueKnob, ladder: Ladder, from: number, direction: 1 | -1): Probing<number | null> {
  let text = knob.next(from, direction);
  for (let tried = 0; tried < mostTexts; tried++, text = knob.next(text, direction)) {
    if (text < knob.lowest || text > knob.highest) return null;
    if (yield* takes(ladder, text)) {
      ladder.link(from, text);
      return text;
    }
  }
  return null;
}

/** How far beyond its ends a rule is followed: as far as any knob goes. */
const farBeyond = 1000;

/** The same rule far beyond the ends that were read; null of a kind that says nothing there. */
const widened = (spec: QuantiserSpec): Quantiser | null => {
  const { kind, from, to } = spec as QuantiserSpec & { readonly from?: unknown; readonly to?: unknown };
  if (typeof from !== 'number' || typeof to !== 'number') return null;
  const made = (wide: QuantiserSpec): Quantiser | null => {
    const grid = makeQuantiser(wide);
    return grid.ok ? grid.value : null;
  };
  if (kind === 'linear' && typeof spec.step === 'number') {
    const by = farBeyond * spec.step;
    // Exact decimals: what a sum leaves behind the twelfth digit is none of it.
    const exact = (value: number): number => Number(value.toPrecision(12));
    return made({ ...spec, from: exact(from - by), to: exact(to + by) });
  }
  if (kind === 'geometric' && typeof spec.count === 'number') {
    const span = to / from;
    const wider = made({
      ...spec,
      from: from / span ** 8,
      to: to * span ** 8,
      count: (spec.count - 1) * 17 + 1,
    });
    return wider;
  }
  return made({ ...spec, from: from / farBeyond, to: to * farBeyond });
};

const indexOf = (grid: Quantiser, value: number, knob: ValueKnob): number =>
  nearestStep(grid, value, { measure: knob.measure, tie: 'up' });

/** The last step of a rule that a knob takes, from one that it takes. */
function* lastText(knob: ValueKnob, ladder: Ladder, grid: Quantiser, end: End): Probing<number> {
  const outwards = end === 'top' ? 1 : -1;
  const text = (index: number): number => knob.asSent(grid.valueAt(step(index)));
  const known = ladder.values();
  const start = (end === 'top' ? known.at(-1) : known[0]) ?? knob.standing;
  let taken = indexOf(grid, start, knob);
  const limit = indexOf(grid, end === 'top' ? knob.highest : knob.lowest, knob);
  let refused = limit + outwards;
  // The same stride first, then doubled: most ends lie some ten to hundred steps off.
  for (let stride = 4; Math.abs(refused - taken) > 1; stride *= 2) {
    const index = taken + outwards * stride;
    const isBeyond = (refused - index) * outwards <= 0;
    if (isBeyond) break;
    if (yield* takes(ladder, text(index))) taken = index;
    else {
      refused = index;
      break;
    }
  }
  while (Math.abs(refused - taken) > 1) {
    const middle = Math.trunc((taken + refused) / 2);
    if (yield* takes(ladder, text(middle))) taken = middle;
    else refused = middle;
  }
  return text(taken);
}

/** Whether a knob takes what a rule says at some steps at random, between its ends. */
function* confirmed(
  knob: ValueKnob,
  ladder: Ladder,
  grid: Quantiser,
  [from, to]: readonly [number, number],
  count: number,
  random: () => number,
): Probing<number> {
  const [first, last] = [indexOf(grid, from, knob), indexOf(grid, to, knob)];
  for (let right = 0; right < count; right++) {
    const index = first + Math.floor(random() * (last - first + 1));
    if (!(yield* takes(ladder, knob.asSent(grid.valueAt(step(index)))))) return right;
  }
  return count;
}

/** Where texts are tried one by one: where a display's last digit is coarsest, and where the pilot is. */
const startOf = (knob: ValueKnob): readonly number[] => {
  const frequencies = knob.knob === 'frequency' ? [19_000, 1000] : [];
  return [...frequencies, ...(knob.measure === 'ratio' ? [1] : []), knob.standing];
};

/** Where any knob that reaches the pilot has steps, but for a high cut's. */
const usualLowHz = 4000;

/** Tries a rule away from where it was read, finds its ends, and holds what is then read against it; null where it fails. */
function* followRule(
  knob: ValueKnob,
  ladder: Ladder,
  spec: QuantiserSpec,
  recognise: Recognise,
  random: () => number,
): Probing<ValuesFound | null> {
  const wide = widened(spec);
  // Every gain has a step at 0 dB.
  if (!wide || (knob.knob === 'gain' && wide.valueAt(step(indexOf(wide, 0, knob))) !== 0)) return null;
  const known = ladder.values();
  const [least, most] = [known[0] ?? knob.standing, known.at(-1) ?? knob.standing];
  const lowest = knob.knob === 'frequency' ? Math.min(least, usualLowHz) : least;
  if ((yield* confirmed(knob, ladder, wide, [lowest, most], 2, random)) < 2) return null;
  const bottom = yield* lastText(knob, ladder, wide, 'bottom');
  const top = yield* lastText(knob, ladder, wide, 'top');
  ladder.stop('bottom', bottom);
  ladder.stop('top', top);
  const grids = gridsExplaining(recognise(ladder.readings(knob.knob, knob.told)));
  const [first] = grids;
  if (!first) return null;
  const right = yield* confirmed(knob, ladder, first.grid, [bottom, top], enoughRight, random);
  if (right < enoughRight) return null;
  return {
    readings: ladder.readings(knob.knob, knob.told),
    grids,
    beyond: { bottom: 'refuses', top: 'refuses' },
    between: null,
    right,
    isWhole: false,
    open: null,
  };
}

/** Finds the values of a knob by the texts that it takes. */
export function* findTexts(
  knob: ValueKnob,
  recognise: Recognise,
  random: () => number,
): Probing<ValuesFound> {
  const ladder = makeLadder();
  for (const value of [knob.standing, ...knob.seen]) ladder.add(value);
  const gaveUp = (open: string): ValuesFound => ({
    readings: ladder.readings(knob.knob, knob.told),
    grids: [],
    beyond: null,
    between: null,
    right: 0,
    isWhole: false,
    open,
  });
  let centre: number | null = null;
  for (const start of startOf(knob)) {
    const text = knob.asSent(start);
    if (yield* takes(ladder, text)) {
      centre = text;
      break;
    }
  }
  if (centre === null) return gaveUp('It takes none of the texts that were tried.');
  const up = yield* nextText(knob, ladder, centre, 1);
  for (const isSecond of [false, true]) {
    // Two neighbours and what other slots stand at often tell enough; three nearly always.
    if (isSecond && knob.knob === 'frequency') yield* nextText(knob, ladder, centre, -1);
    else if (isSecond && up !== null) yield* nextText(knob, ladder, up, 1);
    const grids = gridsExplaining(recognise(ladder.readings(knob.knob, knob.told)));
    for (const { spec } of grids.slice(0, isSecond ? mostGrids : mostEarlyGrids)) {
      const found = yield* followRule(knob, ladder, spec, recognise, random);
      if (found) return found;
      ladder.forgetStops();
    }
  }
  return gaveUp('No grid that is known here explains the texts that it takes.');
}
