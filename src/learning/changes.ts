import type { QuantiserSpec } from '../quantisers/quantiser.js';
import { itemAt } from '../units/at.js';
import { chainsOf } from './chains.js';
import type { NextReading } from './learned.js';
import type { KnobReadings } from './reading.js';
import type { Shape } from './shapes.js';
import { roundish, simplestIn } from './simplest.js';

/** What to read where steps change from stretch to stretch. */

interface Run {
  readonly to: number;
  readonly step: number;
}

const runsOf = ({ segments }: QuantiserSpec): readonly Run[] =>
  Array.isArray(segments) ? segments.map(({ to, step }) => ({ to: Number(to), step: Number(step) })) : [];

const mostPlaces = 6;

/** Between the places where shapes have their steps change: what stands there tells on which side. */
export const betweenChanges = (shapes: readonly Shape[]): readonly number[] => {
  const changes = shapes.flatMap(({ simplest: { spec } }) =>
    runsOf(spec)
      .slice(0, -1)
      .map(({ to }) => to),
  );
  const rising = [...new Set(changes)].sort((a, b) => a - b);
  const stride = Math.max(1, Math.floor(rising.length / mostPlaces));
  return rising
    .slice(1)
    .flatMap((to, at) => (at % stride === 0 ? [roundish(Math.sqrt(to * itemAt(rising, at)), 0.005)] : []));
};

/** So many steps before a change it is counted across it, and so many beyond; more of them where it was tried in vain. */
const [stepsAround, stepsMore] = [2, 3];

/**
 * A change of steps that nobody counted clicks across, as a reading that does: between the readings on either side of it
 * may lie a stretch that nobody saw. Null where each was crossed.
 */
export const uncrossedChange = ({ readings }: KnobReadings, spec: QuantiserSpec): NextReading | null => {
  const runs = runsOf(spec);
  const chains = chainsOf(readings, 'rounded').map((chain) =>
    chain.map(({ at }) => simplestIn(itemAt(readings, at).ifRounded)),
  );
  for (const { to, step } of runs.slice(0, -1)) {
    const isCrossed = chains.some(
      (values) => values.some((each) => each < to) && values.some((each) => each > to),
    );
    if (isCrossed) continue;
    const inVain = readings.filter(
      ({ clicksUp, ifRounded }) => clicksUp === null && ifRounded.least <= to && ifRounded.most >= to,
    );
    const around = stepsAround * stepsMore ** Math.min(inVain.length, 3);
    const value = Number((to - around * step).toPrecision(12));
    return { do: { kind: 'near', value, thenClicksUp: 2 * around }, leaves: null };
  }
  return null;
};
