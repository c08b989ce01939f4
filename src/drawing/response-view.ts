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
  /** Where the desk's bells and notches can stand in the close look, and where some are set; null where not known. */
  readonly places: {
    readonly count: number;
    /** Each of them; none where there are too many to mark. */
    readonly frequenciesHz: readonly number[];
    readonly setHz: readonly number[];
  } | null;
}

/** A stretch of frequency that is shown. */
export type StretchHz = readonly [fromHz: number, toHz: number];

/** A pilot and how far to either side of it is judged. */
type Window = Pick<NonNullable<ResponseView['guard']>, 'pilotHz' | 'windowHz'>;

/** Between a pilot's window and the end of what is shown, so that its edge is seen. */
const roomHz = 300;
const kilohertz = 1000;

/** The close look at a pilot: 12 to 20 kHz, and further where its window ends further out, in whole kilohertz. */
export const closeHz = ({ pilotHz, windowHz }: Window): StretchHz => [
  Math.min(12000, kilohertz * Math.floor((pilotHz - windowHz - roomHz) / kilohertz)),
  Math.max(20000, kilohertz * Math.ceil((pilotHz + windowHz + roomHz) / kilohertz)),
];

/** What is shown whole: 20 Hz to 22 kHz, and as far as the close look where that goes further. */
export const wholeHz = (window: Window | null): StretchHz => [
  20,
  Math.max(22000, window ? closeHz(window)[1] : 0),
];

/** What is shown, in words. */
export const stretchWords = (window: Window | null): string => {
  const whole = `20 Hz to ${wholeHz(window)[1] / kilohertz} kHz`;
  if (!window) return whole;
  const [from, to] = closeHz(window).map((frequencyHz) => frequencyHz / kilohertz);
  return `${whole} and close from ${from} to ${to} kHz`;
};

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
