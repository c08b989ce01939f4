import { uncrossedChange } from './changes.js';
import { otherEndClicked } from './explore.js';
import type { NextReading } from './learned.js';
import { roundKinds } from './luck.js';
import { endedWhereItWas, isRead, spread, travelRead } from './places.js';
import type { KnobReadings } from './reading.js';
import { unitShownAt } from './screen.js';
import type { Shape } from './shapes.js';

/** What to read once one grid is left, to know that it is the one. */

/** Grids that take more to say than this are believed once a click was seen at either end. */
const plainEnough = 12;

/** What has to be read before a grid is believed, however well it fits; null where nothing has. */
export const neededToSettle = (all: KnobReadings, { simplest }: Shape): NextReading | null => {
  const isDoubtful = roundKinds.includes(simplest.spec.kind) || simplest.complexity > plainEnough;
  return (isDoubtful ? otherEndClicked(all) : null) ?? uncrossedChange(all, simplest.spec);
};

/** So many clicks are counted from a stop, the most telling first. */
const clicksTried = [20, 40, 100, 10, 5, 3, 2, 1];

/** A reading that a wrong rule would hardly pass: where steps are widest beside what the screen shows, far from others. */
export const bestCheck = (all: KnobReadings, shape: Shape): NextReading | null => {
  const { readings } = all;
  const isRound = roundKinds.includes(shape.simplest.spec.kind);
  const needed = neededToSettle(all, shape);
  if (needed) return needed;
  const [from, to] = travelRead(readings);
  const isFar = (value: number) =>
    readings.every(
      ({ ifRounded: { least, most } }) => Math.abs((least + most) / 2 - value) > 0.1 * Math.abs(value),
    );
  // A slope is switched, not turned.
  const rated = (all.knob === 'slope' ? [] : spread(from, to))
    .filter(isFar)
    .map((value) => {
      const { below, above } = shape.simplest.neighboursOf(value);
      const spacing = below && above ? above.least - below.least : 0;
      return { value, rate: spacing / 2 / unitShownAt(value, readings) };
    })
    .sort((a, b) => b.rate - a.rate);
  // Among those that serve about as well, the one in the middle of the travel: there a rule bends farthest.
  const good = rated.filter(({ rate }) => rate >= (rated[0]?.rate ?? 0) / 2);
  const middle = from > 0 ? Math.sqrt(from * to) : (from + to) / 2;
  const distance = (value: number) =>
    from > 0 ? Math.abs(Math.log(value / middle)) : Math.abs(value - middle);
  const [best] = good.sort((a, b) => distance(a.value) - distance(b.value));
  // Where values are round, that one stands there tells less than which one is next.
  const thenClicksUp = isRound ? 1 : null;
  if (best && best.rate > 2 && !endedWhereItWas(readings))
    return { do: { kind: 'near', value: best.value, thenClicksUp }, leaves: 1 };
  const stops = [...readings.entries()].filter(
    ([at, { stop }]) => stop !== null && readings.findIndex((each) => each.stop === stop) === at,
  );
  for (const count of clicksTried) {
    for (const [at, from] of stops) {
      const clicksUp = from.stop === 'top' ? -count : count;
      if (isRead(readings, at, clicksUp) || shape.simplest.valueFrom({ at, clicks: clicksUp }) === null)
        continue;
      return { do: { kind: 'clicks', from, clicksUp }, leaves: 1 };
    }
  }
  return null;
};
