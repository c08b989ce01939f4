import type { Intent } from '../../model/intent.js';
import { type Cents, cents, centsBetween } from '../../units/quantity.js';
import { farthestCents, rankOf } from '../nearest/nearest.js';
import { widthAsBandwidth } from '../width.js';

/** Half of what lies between a bell's midpoint-gain points, in cents. */
const halfWidthCents = (bell: Intent): number => 600 * (widthAsBandwidth(bell) ?? 0);

/**
 * Whether one wider bell may come near to two: both cut or both boost, and the stretches between their midpoint-gain
 * points touch. A protective filter merges with nothing: it has to stay where it guards.
 */
const mayMerge = (one: Intent, other: Intent): boolean =>
  one.type === 'peaking' &&
  other.type === 'peaking' &&
  rankOf(one.role) === rankOf(other.role) &&
  (one.gainDb ?? 0) * (other.gainDb ?? 0) > 0 &&
  Math.abs(centsBetween(one.frequencyHz, other.frequencyHz)) <= halfWidthCents(one) + halfWidthCents(other);

/** The intents without a slot that the filter of another may make up for. */
export const mergingWith = (intent: Intent, unserved: readonly Intent[]): readonly Intent[] =>
  unserved.filter((other) => mayMerge(intent, other));

/**
 * How far a filter may move from what was asked: a third of an octave, farther off it is another filter; and half the
 * way to what it may be merged with, beyond which it serves the other rather.
 */
export const reachOf = (
  intent: Intent,
  merging: readonly Intent[],
): { readonly downCents: Cents; readonly upCents: Cents } => {
  const halfWays = merging.map((other) => centsBetween(intent.frequencyHz, other.frequencyHz) / 2);
  return {
    downCents: cents(Math.min(-farthestCents, ...halfWays)),
    upCents: cents(Math.max(farthestCents, ...halfWays)),
  };
};
