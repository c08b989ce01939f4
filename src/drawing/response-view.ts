/** Levels in dB at the frequencies they belong to; NaN where nothing is known. */
export type Levels = ArrayLike<number>;

/** What a response figure shows: plain numbers and words. */
export interface ResponseView {
  readonly title: string;
  /** The figure in words, for those who do not see it. */
  readonly description: string;
  readonly frequenciesHz: ArrayLike<number>;
  readonly asked: Levels;
  readonly set: { readonly levelsDb: Levels; readonly lowestDb: Levels; readonly highestDb: Levels };
  /** What dialling by hand gives; null where that is what was done. */
  readonly byHand: Levels | null;
  /** What the curves are called where they are no recipe's; `asked` is null where no such curve is known. */
  readonly words?: { readonly set: string; readonly asked: string | null };
  /** How many ways of building the range is over, and the one the set curve is of. */
  readonly ways: { readonly count: number; readonly drawn: string };
  /** Null where there is no pilot to guard. */
  readonly guard: {
    readonly pilotHz: number;
    readonly windowHz: number;
    readonly attenuationAtLeastDb: number;
    readonly keepLowHz: number;
    readonly keepHighHz: number;
    readonly keepLossAtMostDb: number;
    /** Where the link's audio ends; null where that is not known. */
    readonly linkEndsHz: number | null;
  } | null;
  /** Where the desk's bells and notches can stand from 12 to 20 kHz, and where some are set; null where not known. */
  readonly places: {
    readonly count: number;
    /** Each of them; none where there are too many to mark. */
    readonly frequenciesHz: readonly number[];
    readonly setHz: readonly number[];
  } | null;
}

/** What is shown whole. */
export const wholeHz = [20, 22000] as const;

/** The close look at the pilot. */
export const closeHz = [12000, 20000] as const;

/** Round tens that hold what is taken at the pilot, and not so deep that the rest is flat. */
const floorOf = ({ guard, set, frequenciesHz }: ResponseView): number => {
  const deepest = Array.from(frequenciesHz, (frequencyHz, index) =>
    guard && Math.abs(frequencyHz - guard.pilotHz) <= guard.windowHz ? (set.lowestDb[index] ?? 0) : 0,
  ).reduce((least, level) => Math.min(least, level), -(guard?.attenuationAtLeastDb ?? 0));
  return Math.max(-60, Math.min(-30, 10 * Math.floor((deepest - 4) / 10)));
};

const ceilingOf = ({ set, asked }: ResponseView): number => {
  const highest = [set.highestDb, asked].flatMap((levels) => Array.from(levels)).filter(Number.isFinite);
  const most = highest.reduce((most, level) => Math.max(most, level), 0);
  return most <= 3 ? 3 : 6 * Math.ceil(most / 6);
};

/** From the lowest level shown to the highest. */
export const spanDb = (view: ResponseView): readonly [lowest: number, highest: number] => [
  floorOf(view),
  ceilingOf(view),
];
