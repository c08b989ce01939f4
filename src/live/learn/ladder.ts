import type { End, KnobReadings, Reading } from '../../learning/reading.js';
import type { Knob } from '../../model/knob.js';

/** How a value came, and where it may lie by that. */
export type ToldValue = Pick<Reading, 'text' | 'ifRounded' | 'ifCut'>;

/** The values a knob was seen at, and which of them are one click apart. */
export interface Ladder {
  add(value: number): void;
  /** Notes that nothing lies between two values. */
  link(one: number, other: number): void;
  stop(end: End, value: number): void;
  stopAt(end: End): number | null;
  forgetStops(): void;
  /** In rising order. */
  values(): readonly number[];
  /** The nearest value seen beyond another; null where none was. */
  beyond(value: number, direction: 1 | -1): number | null;
  isLinked(value: number, direction: 1 | -1): boolean;
  /** Two neighbours among those seen that are not known to be one click apart. */
  gaps(): readonly (readonly [lower: number, upper: number])[];
  readings(knob: Knob, told: (value: number) => ToldValue): KnobReadings;
}

export const makeLadder = (): Ladder => {
  const seen = new Set<number>();
  /** Lower values of neighbours. */
  const linked = new Set<number>();
  const stops = new Map<End, number>();
  const values = (): readonly number[] => [...seen].sort((a, b) => a - b);
  const beyond = (value: number, direction: 1 | -1): number | null => {
    const others = values().filter((each) => Math.sign(each - value) === direction);
    return (direction === 1 ? others[0] : others.at(-1)) ?? null;
  };
  const isLinked = (value: number, direction: 1 | -1): boolean => {
    if (direction === 1) return linked.has(value);
    const below = beyond(value, -1);
    return below !== null && linked.has(below);
  };
  return {
    add: (value) => {
      // What comes to light between two neighbours parts them.
      const below = seen.has(value) ? null : beyond(value, -1);
      if (below !== null) linked.delete(below);
      seen.add(value);
    },
    link: (one, other) => linked.add(Math.min(one, other)),
    stop: (end, value) => {
      seen.add(value);
      stops.set(end, value);
    },
    stopAt: (end) => stops.get(end) ?? null,
    forgetStops: () => stops.clear(),
    values,
    beyond,
    isLinked,
    gaps: () => {
      const all = values();
      return all.flatMap((lower, index) => {
        const upper = all[index + 1];
        return upper === undefined || linked.has(lower) ? [] : [[lower, upper] as const];
      });
    },
    readings: (knob, told) => {
      const all = values();
      const endAt = (value: number): End | null =>
        stops.get('bottom') === value ? 'bottom' : stops.get('top') === value ? 'top' : null;
      return {
        knob,
        readings: all.map((value, index): Reading => {
          const before = all[index - 1];
          return {
            ...told(value),
            stop: endAt(value),
            clicksUp: before !== undefined && linked.has(before) ? 1 : null,
            isSure: true,
          };
        }),
      };
    },
  };
};
