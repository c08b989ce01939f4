import type { End } from '../../learning/reading.js';
import { everyFloat, keepsAll } from './every-float.js';
import { type Beyond, findStop } from './find-stops.js';
import {
  differences,
  explaining,
  isSame,
  placeOn,
  predicted,
  type Recognise,
  tellingPlace,
  type ValueKnob,
  type ValuesFound,
} from './grids-left.js';
import { makeLadder } from './ladder.js';
import { type Climbing, findNeighbour } from './neighbours.js';
import { distance, type Probing, placeBetween } from './probing.js';

/** So many right predictions in a row settle a grid. */
const enoughRight = 5;
/** So few steps are all looked at. */
const fewSteps = 8;
/** Looks at places where other grids say otherwise: rules with a bend somewhere are endless, each less simple. */
const mostTells = 4;
/** Looks at further places, each with its neighbour, before it is given up. */
const mostLooks = 16;

/** Every step between two values, halving what lies between. */
function* allBetween(climbing: Climbing): Probing<void> {
  for (let count = 0; count < 4 * fewSteps; count++) {
    const [gap] = climbing.ladder.gaps();
    if (!gap) return;
    yield* findNeighbour(climbing, gap[0], 1);
  }
}

/** Looks where least is known: the middle of the widest gap, and the neighbour of what stands there. */
function* lookIntoWidestGap(climbing: Climbing): Probing<boolean> {
  const { knob, ladder } = climbing;
  const [widest] = [...ladder.gaps()].sort((a, b) => distance(knob, b[0], b[1]) - distance(knob, a[0], a[1]));
  if (!widest) return false;
  const { value } = yield knob.asSent(placeBetween(knob, widest[0], widest[1], 0.5));
  ladder.add(value);
  yield* findNeighbour(climbing, value, 1);
  return true;
}

/**
 * Finds the values of a knob: its stops, the neighbours of the place that matters most, and what explains them; then
 * what that says of places at random, until so many came right in a row. What came otherwise is one more reading.
 */
export function* findValues(
  knob: ValueKnob,
  recognise: Recognise,
  random: () => number,
): Probing<ValuesFound> {
  const ladder = makeLadder();
  for (const value of [knob.standing, ...knob.seen]) ladder.add(value);
  const found = (
    rest: Partial<Omit<ValuesFound, 'readings'>> & { readonly open: string | null },
  ): ValuesFound => ({
    readings: ladder.readings(knob.knob, knob.told),
    grids: [],
    beyond: null,
    between: null,
    right: 0,
    isWhole: false,
    ...rest,
  });
  // A gain goes down first: should that switch its section on, nothing is to have risen.
  const [one, other] = knob.knob === 'gain' ? (['bottom', 'top'] as const) : (['top', 'bottom'] as const);
  const ends = { top: null, bottom: null } as Record<End, Beyond | null>;
  ends[one] = yield* findStop(knob, one, ladder);
  ends[other] = ends[one] === null ? null : yield* findStop(knob, other, ladder);
  const { top, bottom } = ends;
  if (top === null || bottom === null) return found({ open: 'It stays where it is, whatever it is sent.' });
  const beyond = { bottom, top };
  if (top === 'endless' || bottom === 'endless')
    return found({ beyond, open: 'It takes values beyond any stop as they are, so that no end was found.' });
  const [least, most] = [ladder.stopAt('bottom') ?? 0, ladder.stopAt('top') ?? 0];
  const climbing: Climbing = {
    knob,
    ladder,
    spacing: distance(knob, least, most) / 40,
    between: null,
    echoes: false,
  };

  const stray = knob.asSent(placeBetween(knob, least, most, 0.3 + 0.4 * random()));
  const middle = yield stray;
  ladder.add(middle.value);
  climbing.echoes = middle.value === stray;
  if (climbing.echoes && !knob.isCoarse) {
    const right = yield* keepsAll(knob, ladder, [least, most], random);
    const grids = right === null ? [] : everyFloat(knob, least, most);
    if (right !== null && grids.length > 0) return found({ beyond, grids, right, open: null });
  }
  const near = knob.near !== null && knob.near > least && knob.near < most ? knob.near : null;
  const centre = near === null ? middle.value : (yield knob.asSent(near)).value;
  ladder.add(centre);
  const up = yield* findNeighbour(climbing, centre, 1);
  if (up !== null) yield* findNeighbour(climbing, up, 1);
  yield* findNeighbour(climbing, centre, -1);
  if (!climbing.echoes && distance(knob, least, most) / climbing.spacing <= fewSteps)
    yield* allBetween(climbing);
  if (ladder.gaps().length > 0 && !ladder.isLinked(least, 1)) yield* findNeighbour(climbing, least, 1);

  let [right, tells] = [0, 0];
  for (let looks = 0; looks < mostLooks; ) {
    const grids = explaining(knob, ladder, recognise);
    if (ladder.gaps().length === 0)
      return found({ beyond, between: climbing.between, grids, isWhole: true, open: null });
    const telling = tells < mostTells ? tellingPlace(grids, climbing) : null;
    if (telling !== null) {
      tells++;
      ladder.add((yield telling).value);
      continue;
    }
    while (grids[0] && right < enoughRight) {
      const place = placeOn(grids[0], knob, random);
      const { value } = yield place;
      if (!isSame(value, predicted(grids[0], climbing, place))) {
        right = 0;
        looks++;
        ladder.add(value);
        if (!ladder.isLinked(value, 1)) yield* findNeighbour(climbing, value, 1);
        break;
      }
      right++;
    }
    const [first] = grids;
    if (first && right >= enoughRight) {
      const others = grids.slice(1).filter((other) => differences(first, other, climbing).length > 0);
      return found({ beyond, between: climbing.between, grids: [first, ...others], right, open: null });
    }
    if (!grids[0]) {
      looks++;
      if (!(yield* lookIntoWidestGap(climbing))) break;
    }
  }
  return found({ beyond, open: 'No grid that is known here explains the values that were read.' });
}
