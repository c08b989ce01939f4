/**
 * How much more work a search may spend, so that a fit ends in seconds whatever the desk. Counted in nodes looked at and
 * filters worked out, not in time, so that the same question has the same answer everywhere. Searches use it up.
 */
export interface WorkBudget {
  left: number;
}

/** Some seconds of work, for each number of cuts anew. The more they are, the longer each takes and the less it helps. */
export const workFor = (cutCount: number): number => 1_000_000 / Math.max(1, cutCount - 1);

/** What a part of the work costs: a node looked at, the response of one filter at all points, a setting over whole bands, a guard band. */
export const nodeWork = 1;
export const filterWork = 8;
export const wholeWork = 12;
export const guardBandWork = 40;

/** Works a value out when it is first asked for, and keeps it. */
export const lazy = <Value>(make: () => Value): (() => Value) => {
  let made: { readonly value: Value } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};
