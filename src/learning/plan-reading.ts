import { itemAt } from '../units/at.js';
import { betweenChanges } from './changes.js';
import type { ClicksFrom } from './families/family.js';
import type { NextReading } from './learned.js';
import { endedWhereItWas, isRead, spread, travelRead } from './places.js';
import type { KnobReadings, Reading } from './reading.js';
import { asShown, unitShownAt } from './screen.js';
import { admitsReading, neighboursIn, type Shape } from './shapes.js';
import { roundish } from './simplest.js';

/** What could be read next, and what a shape says would stand there. */
interface Choice {
  readonly do: NextReading['do'];
  /** What it costs whoever turns the knob, in readings. */
  readonly effort: number;
  readonly from: ClicksFrom | null;
  readonly near: number | null;
}

/** So many shapes are held against each other at most, and so many taken for the true one. */
const [mostShapes, mostTruths] = [48, 8];

/** So much more counts a shape that differs next to the pilot than one that does not. */
const weightNearPilot = 2;

/** So much of a halving of what is left has one more reading to bring. */
const worthOfEffort = 0.35;

const clicksTried = [1, 2, 5, 10, 20, 40];

/** Many clicks are asked for once only so many shapes are left, and where steps change: across a change they tell where it is. */
const [manyClicks, fewShapes] = [[60, 100], 4];

const [mostGaps, leastGap] = [6, 0.02];

/** The middles of the widest stretches where nothing was read. */
const gaps = (readings: readonly Reading[]): readonly number[] => {
  const values = readings.map(({ ifRounded: { least, most } }) => (least + most) / 2).sort((a, b) => a - b);
  return values
    .slice(1)
    .flatMap((to, at) => {
      const from = itemAt(values, at);
      return from > 0 && to / from > 1 + leastGap ? [{ from, to }] : [];
    })
    .sort((a, b) => b.to / b.from - a.to / a.from)
    .slice(0, mostGaps)
    .map(({ from, to }) => roundish(Math.sqrt(from * to)));
};

/** The readings that show a value. */
const knownAt = (readings: readonly Reading[], value: number): readonly number[] =>
  readings.flatMap(({ ifRounded: { least, most } }, at) => (least <= value && value <= most ? [at] : []));

const choicesFor = (
  { knob, readings }: KnobReadings,
  shapes: readonly Shape[],
  pilotHz: number,
): readonly Choice[] => {
  const [from, to] = travelRead(readings);
  // Not at a stop, whence nothing may be turned on, and what stands there is known.
  const isBetween = (value: number): boolean =>
    value > from + 0.03 * Math.abs(from) && value < to - 0.03 * Math.abs(to);
  const hasChanges = shapes[0]?.simplest.spec.kind === 'piecewise-linear';
  const places = [
    ...spread(from, to),
    ...gaps(readings),
    ...betweenChanges(shapes),
    ...(knob === 'frequency' ? [pilotHz] : []),
  ].filter(isBetween);
  const near = (knob === 'slope' || endedWhereItWas(readings) ? [] : places).flatMap(
    (value): readonly Choice[] => {
      const known = knownAt(readings, shapes[0]?.simplest.valueNear(value) ?? value);
      return [
        ...(known.length > 0
          ? []
          : [
              {
                do: { kind: 'near', value, thenClicksUp: null },
                effort: 1,
                from: null,
                near: value,
              } as const,
            ]),
        ...(known.some((at) => isRead(readings, at, 1))
          ? []
          : [{ do: { kind: 'near', value, thenClicksUp: 1 }, effort: 2, from: null, near: value } as const]),
      ];
    },
  );
  const clicked = readings.flatMap((reading, at) =>
    reading.stop === null && at < readings.length - 1
      ? []
      : [...clicksTried, ...(shapes.length <= fewShapes || hasChanges ? manyClicks : [])].flatMap((count) =>
          [-count, count].flatMap((clicks): readonly Choice[] =>
            isRead(readings, at, clicks)
              ? []
              : [
                  {
                    do: { kind: 'clicks', from: reading, clicksUp: clicks },
                    effort: 1 + count / 30,
                    from: { at, clicks },
                    near: null,
                  },
                ],
          ),
        ),
  );
  return [...near, ...clicked];
};

/** Whether a shape may have, next above a value, what the screen shows there. */
const mayStepTo = (shape: Shape, value: number, next: Pick<Reading, 'ifRounded' | 'ifCut'>): boolean => {
  const above = neighboursIn(shape, value).above;
  const { least, most } = next.ifRounded;
  return above !== null && above.least <= most && above.most >= least;
};

/** The shapes that are left if a choice shows what one of them says; null where that one has nothing to say. */
const leftAfter = (
  { do: what, from, near }: Choice,
  truth: Shape,
  shapes: readonly Shape[],
  readings: readonly Reading[],
): readonly Shape[] | null => {
  const { explanation, lastDigit } = itemAt(truth.byLastDigit, 0);
  const value = from ? explanation.valueFrom(from) : explanation.valueNear(near ?? 0);
  if (value === null) return null;
  const shown = asShown(value, unitShownAt(value, readings), lastDigit);
  const left = shapes.filter((shape) => admitsReading(shape, shown, from));
  // What stands on the edge of a digit may not show as was worked out: then nothing is known of what it tells.
  if (!left.includes(truth)) return null;
  if (what.kind !== 'near' || what.thenClicksUp === null) return left;
  const next = explanation.neighboursOf(value).above;
  if (!next) return null;
  const above = (next.least + next.most) / 2;
  const shownAbove = asShown(above, unitShownAt(above, readings), lastDigit);
  return left.filter((shape) => mayStepTo(shape, value, shownAbove));
};

/** What the screen shows of the values next to the pilot. */
const shownNextToPilot = (shape: Shape, pilotHz: number, readings: readonly Reading[]): string => {
  const unit = unitShownAt(pilotHz, readings);
  const { below, above } = shape.simplest.neighboursOf(pilotHz);
  return [below, above].map((each) => (each ? Math.round(each.least / unit) : '')).join(' ');
};

/** How much is open while these are left: their number, and what they differ in next to the pilot. */
const openness = (shapes: readonly Shape[], views: ReadonlyMap<Shape, string>): number => {
  const seen = new Set(shapes.map((shape) => views.get(shape)));
  return shapes.length + weightNearPilot * (seen.size - 1);
};

/**
 * The reading after which least is expected to be open, weighed against the effort of turning and counting; null where no
 * reading tells the shapes apart.
 */
export const bestSplit = (
  all: KnobReadings,
  shapes: readonly Shape[],
  pilotHz: number,
): NextReading | null => {
  const { knob, readings } = all;
  if (shapes.length < 2) return null;
  const held = shapes.slice(0, mostShapes);
  const views = new Map(
    held.map((shape) => [shape, knob === 'frequency' ? shownNextToPilot(shape, pilotHz, readings) : '']),
  );
  const now = openness(held, views);
  const stride = Math.max(1, Math.ceil(held.length / mostTruths));
  const truths = held.filter((_, at) => at % stride === 0);
  let best: { readonly choice: Choice; readonly score: number; readonly leaves: number } | null = null;
  for (const choice of choicesFor(all, held, pilotHz)) {
    let [open, count, told] = [0, 0, 0];
    for (const truth of truths) {
      const left = leftAfter(choice, truth, held, readings);
      open += left ? openness(left, views) : now;
      count += left ? left.length : held.length;
      told += left ? 1 : 0;
    }
    if (told === 0) continue;
    const score = Math.log2(Math.max(open / truths.length, 1)) + worthOfEffort * choice.effort;
    const leaves = (count / truths.length) * (shapes.length / held.length);
    if (open / truths.length > now - 0.05) continue;
    if (best === null || score < best.score) best = { choice, score, leaves };
  }
  return best && { do: best.choice.do, leaves: best.leaves };
};
