import { learnGrid } from '../../src/learning/learn-grid.js';
import type { Candidate, Learned } from '../../src/learning/learned.js';
import { parseReadings } from '../../src/learning/parse-readings.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { step } from '../../src/units/quantity.js';
import { Engineer, type SimulatedDesk, show } from './simulated-desk.js';

/** What was learned after one reading more. */
export interface Stage {
  readonly typed: string;
  readonly learned: Learned;
}

export interface Recovery {
  readonly desk: SimulatedDesk;
  readonly stages: readonly Stage[];
  readonly readings: number;
  readonly learned: Learned;
  readonly engineer: Engineer;
  /** What the engineer was asked and could not do; null where all could be done. */
  readonly stuck: string | null;
}

/** Does what is asked next until it is settled, or until more was read than anybody would. */
export const recover = (desk: SimulatedDesk, slip: Engineer['slip'] = null): Recovery => {
  const engineer = new Engineer(desk, slip);
  const mostReadings = desk.kind === 'table' ? desk.values.length + 10 : 20;
  const stages: Stage[] = [];
  let learned = learnGrid({ knob: desk.knob, readings: [] });
  let stuck: string | null = null;
  while (learned.next && !learned.isSettled && engineer.readings < mostReadings) {
    if (!engineer.do(learned.next.do)) {
      stuck = JSON.stringify(learned.next.do);
      break;
    }
    const parsed = parseReadings(engineer.typed, desk.knob);
    if (!parsed.ok) throw new Error(parsed.error);
    learned = learnGrid(parsed.value);
    stages.push({ typed: engineer.typed, learned });
  }
  return { desk, stages, readings: engineer.readings, learned, engineer, stuck };
};

/** A displayed value as the number it says. */
const numberOf = (text: string): number => Number(text.replace('k', '')) * (text.includes('k') ? 1000 : 1);

/** What the last digit of a displayed value is worth. */
const unitOf = (text: string): number =>
  10 ** -(/\.(\d*)/.exec(text)?.[1]?.length ?? 0) * (text.includes('k') ? 1000 : 1);

/**
 * How a grid compares with the desk's: `exact` where the screen shows the same at every step, `within a digit` where it
 * shows a little else at some: one of the last digit, or what is left open by the last digit of the two ends (which a
 * screen that shows 16.4k and 9.99k shows more coarsely); else `wrong`.
 */
export const compare = (
  candidate: Candidate | undefined,
  { values, display }: SimulatedDesk,
): 'exact' | 'within a digit' | 'wrong' | 'none' => {
  if (!candidate) return 'none';
  const grid = makeQuantiser(candidate.spec);
  if (!grid.ok) throw new Error(grid.error);
  if (grid.value.count !== values.length) return 'wrong';
  const shareAtEnd = Math.max(
    ...[values[0] ?? 0, values.at(-1) ?? 0].map((end) => unitOf(show(end, display)) / Math.abs(end)),
  );
  let [isExact, isNear] = [true, true];
  for (const [at, value] of values.entries()) {
    const [right, said] = [show(value, display), show(grid.value.valueAt(step(at)), display)];
    if (right === said) continue;
    isExact = false;
    const unit = Math.max(unitOf(right), unitOf(said));
    const open = candidate.spec.kind === 'geometric' ? shareAtEnd * Math.abs(value) : 0;
    isNear &&= Math.abs(numberOf(right) - numberOf(said)) < 1.01 * unit + open;
  }
  return isExact ? 'exact' : isNear ? 'within a digit' : 'wrong';
};

const pilotHz = 19_000;
const isNear = (value: number | undefined, interval: { least: number; most: number } | null): boolean =>
  value === undefined
    ? // Whether a value stands right on the pilot, or beyond it, a screen may not tell.
      interval === null || (interval.least <= pilotHz * 1.000001 && interval.most >= pilotHz * 0.999999)
    : interval !== null &&
      value >= interval.least - 1e-6 * Math.abs(value) &&
      value <= interval.most + 1e-6 * Math.abs(value);

/** Whether the desk's grid is among the candidates, as far as those say: its count, and its values next to the pilot. */
export const isAmong = ({ candidates, areMore }: Learned, { values, knob }: SimulatedDesk): boolean =>
  areMore ||
  candidates.some(({ count, nextToPilot, openEnds }) => {
    if (count !== null && count !== values.length) return false;
    if (knob !== 'frequency' || nextToPilot === null) return true;
    const below = values.findLast((value) => value < pilotHz * (1 - 1e-9));
    const above = values.find((value) => value > pilotHz * (1 + 1e-9));
    // Beyond an end that was not read a grid may go on.
    return (
      ((below === undefined && openEnds.includes('bottom')) || isNear(below, nextToPilot.below)) &&
      ((above === undefined && openEnds.includes('top')) || isNear(above, nextToPilot.above))
    );
  });
