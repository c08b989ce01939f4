/**
 * How much more work a fit may spend, so that it ends in seconds whatever the desk. Counted in high cuts looked at beside
 * boxes, not in time, so that the same question has the same answer everywhere. Searches use it up.
 */
export interface Patience {
  left: number;
}

/** Some seconds of work. */
export const usualPatience = (): Patience => ({ left: 30_000_000 });

/** What other work costs, as so many high cuts looked at. Those of the second kind are for one realisation. */
export const boxesLooks = 20;
export const boundsLooks = 100;
export const guardBandLooks = 1000;
