import { randomInt } from 'node:crypto';

/** A seed nobody chose, short enough to type again. */
export const anySeed = (): number => randomInt(1, 1_000_000);
