import type { Ladder } from './ladder.js';
import { type Between, distance, type ProbedKnob, type Probing, placeBetween } from './probing.js';

/** What climbing has found out on the way, for the next climb. */
export interface Climbing {
  readonly knob: ProbedKnob;
  readonly ladder: Ladder;
  /** How far apart the last neighbours were, in octaves or in the knob's own unit; a guess before. */
  spacing: number;
  /** Null until it has been seen. */
  between: Between | null;
  /** Whether it keeps what it is sent as it is, wherever that lies. */
  echoes: boolean;
}

/** More than any bisection takes. */
const mostTries = 60;

const offset = ({ measure }: ProbedKnob, from: number, by: number): number =>
  measure === 'ratio' ? from * 2 ** by : from + by;

/** A value beyond `from`, not far from it; null where nothing lies there. */
function* somewhereBeyond(climbing: Climbing, from: number, direction: 1 | -1): Probing<number | null> {
  const { knob, ladder } = climbing;
  for (let reach = climbing.spacing, tries = 0; tries < mostTries; reach *= 2, tries++) {
    const known = ladder.beyond(from, direction);
    const place = knob.asSent(offset(knob, from, direction * reach));
    if (known !== null && (place - known) * direction >= 0) return known;
    const { value } = yield place;
    ladder.add(value);
    if ((value - from) * direction > 0) return value;
  }
  return null;
}

/** How a desk takes what lies between two neighbours, by what it makes of a second place between them. */
const takesAs = (isFar: boolean, secondIsFar: boolean, direction: 1 | -1): Between => {
  if (isFar !== secondIsFar) return 'nearest';
  return isFar === (direction === 1) ? 'above' : 'below';
};

/** Where between two values a desk that goes down, or up, tells whether anything lies there. */
const besideFar = (between: Between, direction: 1 | -1): number =>
  (between === 'below') === (direction === 1) ? 0.98 : 0.02;

/**
 * The neighbour of a value, one click on: a value beyond it, and what lies between halved until nothing does. Where a desk
 * goes to the nearest step, the middle of two values that are no neighbours goes to one between them; where it goes down,
 * or up, the place beside one of them tells. Null at the end of the knob.
 */
export function* findNeighbour(climbing: Climbing, from: number, direction: 1 | -1): Probing<number | null> {
  const { knob, ladder } = climbing;
  const finest = knob.next(from, direction);
  if (from === ladder.stopAt(direction === 1 ? 'top' : 'bottom')) return null;
  if (ladder.isLinked(from, direction)) return ladder.beyond(from, direction);
  let far: number | null = null;
  if (climbing.echoes) {
    const { value } = yield finest;
    ladder.add(value);
    if (value === finest) far = finest;
  }
  far ??= yield* somewhereBeyond(climbing, from, direction);
  if (far === null) return null;
  for (let tries = 0; tries < mostTries && far !== finest; tries++) {
    const end: number = far;
    const probe = function* (share: number): Probing<number> {
      const place = knob.asSent(placeBetween(knob, from, end, share));
      const { value } = yield place;
      ladder.add(value);
      return value;
    };
    const isInside = (value: number): boolean =>
      (value - from) * direction > 0 && (end - value) * direction > 0;
    const middle = yield* probe(0.5);
    if (isInside(middle)) {
      far = middle;
      continue;
    }
    if (climbing.between === 'nearest') break;
    const isFar: boolean = middle === end;
    const second = yield* probe(
      climbing.between === null ? (isFar ? 0.25 : 0.75) : besideFar(climbing.between, direction),
    );
    if (isInside(second)) {
      far = second;
      continue;
    }
    if (climbing.between !== null) break;
    climbing.between = takesAs(isFar, second === end, direction);
    if (climbing.between === 'nearest') break;
  }
  climbing.spacing = distance(knob, from, far);
  ladder.link(from, far);
  return far;
}
