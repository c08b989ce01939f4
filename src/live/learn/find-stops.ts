import type { End } from '../../learning/reading.js';
import type { Ladder } from './ladder.js';
import { distance, type ProbedKnob, type Probing, placeBetween } from './probing.js';

/** What a knob does with a value beyond its end: it stands at its stop, stays where it was, or takes it as it is. */
export type Beyond = 'clamps' | 'refuses' | 'endless';

const outwards = (end: End): 1 | -1 => (end === 'top' ? 1 : -1);

/** Somewhere else than where a knob stands, so that a move can be seen; null where it moves nowhere. */
function* stepAside(knob: ProbedKnob, from: number, end: End, ladder: Ladder): Probing<number | null> {
  const towards = (goal: number): readonly number[] =>
    [0.03, 0.1, 0.01, 0.3, 0.003, 0.6, 0.001].map((share) =>
      knob.asSent(placeBetween(knob, from, goal, share)),
    );
  const { lowest, highest } = knob;
  // Away from the end that is sought, and where it stands at the other one, towards it.
  const places =
    end === 'top' ? [...towards(lowest), ...towards(highest)] : [...towards(highest), ...towards(lowest)];
  for (const place of [...ladder.values().filter((each) => each !== from), ...places]) {
    const answer = yield place;
    if (answer.moved) return answer.value;
  }
  return null;
}

/** Below this two values are as near as two stops need be told apart. */
const nearEnough = 1e-5;

/**
 * The last value of a knob that stays where it was when it is sent one beyond its end: between the last place that it
 * takes and the first that it refuses, halved. What it makes of a place may lie short of it, where a desk goes to the step
 * below: then only the very last place gives the last step.
 */
function* lastTaken(knob: ProbedKnob, end: End, ladder: Ladder): Probing<number> {
  // From the outermost that was seen: what it takes further out is none that was seen before.
  const inside = (end === 'top' ? ladder.values().at(-1) : ladder.values()[0]) ?? knob.standing;
  let [taken, value, refused] = [inside, inside, end === 'top' ? knob.highest : knob.lowest];
  const isShort = (): boolean => (value - taken) * outwards(end) < 0;
  while (isShort() || distance(knob, taken, refused) > nearEnough) {
    const middle = knob.asSent(placeBetween(knob, taken, refused, 0.5));
    if (middle === taken || middle === refused) break;
    // Whether it takes what lies nearest to where it stands cannot be seen: it is sent away first.
    const known = ladder.values().filter((each) => each !== value);
    const away = end === 'top' ? known[0] : known.at(-1);
    if (away !== undefined) yield away;
    const answer = yield middle;
    if (answer.moved) {
      [taken, value] = [middle, answer.value];
      ladder.add(value);
    } else refused = middle;
  }
  return value;
}

/** Finds one stop and notes it; null where the knob does not move at all. */
export function* findStop(knob: ProbedKnob, end: End, ladder: Ladder): Probing<Beyond | null> {
  const far = knob.asSent(end === 'top' ? knob.highest : knob.lowest);
  const first = yield far;
  if (first.value === far) return 'endless';
  ladder.add(first.value);
  if (first.moved) {
    ladder.stop(end, first.value);
    return 'clamps';
  }
  const aside = yield* stepAside(knob, first.value, end, ladder);
  if (aside === null) return null;
  ladder.add(aside);
  const again = yield far;
  if (again.value !== aside) {
    ladder.stop(end, again.value);
    return 'clamps';
  }
  ladder.stop(end, yield* lastTaken(knob, end, ladder));
  return 'refuses';
}
