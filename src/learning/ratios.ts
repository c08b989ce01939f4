/** So near to a whole number is one: ends that are round to a few digits leave the number of steps exact. */
const wholeWithin = 1e-7;

const asWhole = (number: number): number | null => {
  const rounded = Math.round(number);
  return rounded >= 1 && Math.abs(number - rounded) < wholeWithin * rounded ? rounded : null;
};

/** A step as a whole number of them to the octave or decade. */
export interface WholeRatio {
  readonly words: string;
  /** Whether it is a number that people choose: any to the octave, tens to the decade. */
  readonly isUsual: boolean;
}

/** What a step, as a natural logarithm, is in words: `20 steps to the decade`; null where it is no whole number of them. */
export const wholeRatio = (step: number): WholeRatio | null => {
  const perOctave = asWhole(Math.LN2 / step);
  if (perOctave !== null) return { words: `${perOctave} steps to the octave`, isUsual: true };
  const perDecade = asWhole(Math.LN10 / step);
  return perDecade === null
    ? null
    : { words: `${perDecade} steps to the decade`, isUsual: perDecade % 10 === 0 };
};
