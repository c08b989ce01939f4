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
  /**
   * What the curves are called where they are no recipe's; `asked` is null where no such curve is known, and built where it
   * is no prototype but what a desk makes of it.
   */
  readonly words?: { readonly set: string; readonly asked: string | null; readonly isAskedBuilt: boolean };
  /** How many ways of building the range is over, and the one the set curve is of: with a guard, the worst for the pilot. */
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

/** What the curves of a recipe are called. */
export const usualWords: NonNullable<ResponseView['words']> = {
  set: 'set',
  asked: 'asked',
  isAskedBuilt: false,
};

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

/** What a view shows of some curves: the levels at the frequencies shown. */
const levelsIn = (view: ResponseView, curves: readonly Levels[], isShown: (frequencyHz: number) => boolean) =>
  curves.flatMap((levels) => {
    const shown: number[] = [];
    for (let index = 0; index < view.frequenciesHz.length; index++) {
      const level = levels[index] ?? Number.NaN;
      if (isShown(view.frequenciesHz[index] ?? 0) && !Number.isNaN(level)) shown.push(level);
    }
    return shown;
  });

const isShownIn = ({ guard }: ResponseView) => {
  const [, toHz] = wholeHz(guard);
  return (frequencyHz: number): boolean => frequencyHz <= toHz;
};

const least = (levels: readonly number[], start: number): number =>
  levels.reduce((least, level) => Math.min(least, level), start);

/** Room between the lowest that must be seen and the lower edge. */
const floorRoomDb = 4;
/** No curve is followed deeper: the rest would be flat. */
const deepestDb = -60;
/** Where nothing is guarded, so that what is gentle is not squeezed. */
const gentleFloorsDb = [-6, -12, -18, -24];

const roundTen = (levelDb: number): number => 10 * Math.floor((levelDb - floorRoomDb) / 10);

/**
 * Round tens that hold what is taken at the pilot, and not so deep that the rest is flat; the limits at any rate. Without a
 * pilot what the filters do.
 */
const floorOf = (view: ResponseView): number => {
  const { guard, set, asked, byHand } = view;
  if (!guard) {
    const curves = [set.lowestDb, asked, ...(byHand ? [byHand] : [])];
    const deepest = least(levelsIn(view, curves, isShownIn(view)), 0);
    return (
      gentleFloorsDb.find((floorDb) => deepest > 0.9 * floorDb) ?? Math.max(deepestDb, roundTen(deepest))
    );
  }
  const limits = Math.min(-guard.attenuationAtLeastDb, -guard.keepLossAtMostDb);
  const isAtPilot = (frequencyHz: number): boolean => Math.abs(frequencyHz - guard.pilotHz) <= guard.windowHz;
  const deepest = least(levelsIn(view, [set.lowestDb], isAtPilot), 0);
  return Math.min(-30, Math.max(deepestDb, roundTen(deepest)), roundTen(limits));
};

/** Above the highest of all curves: round sixes, and 3 dB where nothing rises. */
const ceilingOf = (view: ResponseView): number => {
  const { set, asked, byHand } = view;
  const curves = [set.highestDb, asked, ...(byHand ? [byHand] : [])];
  const most = -least(
    levelsIn(view, curves, isShownIn(view)).map((level) => -level),
    0,
  );
  return most <= 2.5 ? 3 : 6 * Math.ceil((most + 0.5) / 6);
};

/** From the lowest level shown to the highest. */
export const spanDb = (view: ResponseView): readonly [lowest: number, highest: number] => [
  floorOf(view),
  ceilingOf(view),
];

/** Where all that is set lies below what is shown of a stretch, the words for it; null where some of it is seen. */
export const belowText = (view: ResponseView, [fromHz, toHz]: StretchHz): string | null => {
  const { set, words = usualWords } = view;
  const isInside = (frequencyHz: number): boolean => frequencyHz >= fromHz && frequencyHz <= toHz;
  const levels = levelsIn(view, [set.highestDb], isInside);
  const most = levels.reduce((most, level) => Math.max(most, level), Number.NEGATIVE_INFINITY);
  if (levels.length === 0 || most >= floorOf(view)) return null;
  const upTo = Number.isFinite(most) ? `, at most ${Math.ceil(most)} dB` : '';
  return `${words.set}: below the picture${upTo}`;
};
