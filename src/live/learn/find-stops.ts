import type { End } from '../../learning/reading.js';
import type { Ladder } from './ladder.js';
import { distance, type ProbedKnob, type Probing, placeBetween } from './probing.js';

/** What a knob does with a value beyond its end: it stands at its stop, stays where it was, or takes it as it is. */
export type Beyond = 'clamps' | 'refuses' | 'endless';

const outwards = (end: End): 1 | -1 => (end === 'top' ? 1 : -1);

/** Somewhere else than where a knob stands, so that a move can be seen; null where it moves nowhere. */
function* stepAside(knob: ProbedKnob, from: number, end: End, ladder: Ladder): Probing<number | null> {
  const opposite = end === 'top' ? knob.lowest : knob.highest;
  const inwards = [0.03, 0.1, 0.3, 0.6].map((share) =>
    knob.asSent(placeBetween(knob, from, opposite, share)),
  );
  for (const place of [...ladder.values().filter((each) => each !== from), ...inwards]) {
    const answer = yield place;
    if (answer.moved) return answer.value;
  }
  return null;
}

/** Below this two values are as near as two stops need be told apart. */
const nearEnough = 1e-5;

/** The last value that a knob takes which stays where it was when it is sent one beyond its end. */
function* lastTaken(knob: ProbedKnob, end: End, inside: number, ladder: Ladder): Probing<number> {
  let [taken, refused] = [inside, end === 'top' ? knob.highest : knob.lowest];
  while (distance(knob, taken, refused) > nearEnough && knob.next(taken, outwards(end)) !== refused) {
    // Whether it takes what lies nearest to where it stands cannot be seen: it is sent away first.
    const away = ladder.values().find((each) => each !== taken) ?? null;
    if (away !== null) yield away;
    const middle = knob.asSent(placeBetween(knob, taken, refused, 0.5));
    const { value, moved } = yield middle;
    if (moved && value !== away) {
      ladder.add(value);
      // Where it snaps back to what is known, more may be taken further out.
      if (value === taken) {
        const further = yield* takenBeyond(knob, middle, refused, taken);
        if (further === null) return taken;
        taken = further;
        ladder.add(taken);
      } else taken = value;
    } else refused = middle;
  }
  return taken;
}

/** A value beyond a place that a knob takes as another than it is known to have; null where none was found. */
function* takenBeyond(
  knob: ProbedKnob,
  from: number,
  refused: number,
  known: number,
): Probing<number | null> {
  for (const share of [0.1, 0.2, 0.35, 0.5, 0.7]) {
    const { value } = yield knob.asSent(placeBetween(knob, from, refused, share));
    if (value !== known && Math.abs(value - known) > Math.abs(from - known)) return value;
  }
  return null;
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
  ladder.stop(end, yield* lastTaken(knob, end, first.value, ladder));
  return 'refuses';
}
