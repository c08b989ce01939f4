import type { Framing } from './framing.js';
import { lengthPrefix } from './length-prefix.js';
import { slip } from './slip.js';

/** Every framing there is. */
export const framings: readonly Framing[] = [slip, lengthPrefix];

/** The framing of a transport that is a stream. */
export const framingOf = (transport: Framing['transport']): Framing => {
  const framing = framings.find((each) => each.transport === transport);
  if (!framing) throw new RangeError(`no framing for ${transport}`);
  return framing;
};
