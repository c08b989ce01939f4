import type { Filter } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import { logFrequencies } from '../filters/response.js';
import { placedFilter } from '../fitting/placement.js';
import { analoguePrototype, responseDb } from '../fitting/response.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { PlacedFilter, RecipeMix } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { numberAt } from '../units/at.js';
import { type Hz, hz } from '../units/quantity.js';

/** Levels in dB at the frequencies of the set they belong to; NaN where a way of building has no response. */
export type LevelsDb = Float64Array;

/** What filters do over frequency, in every way a desk may build them. */
export interface DeskCurves {
  /** In the way of building that takes least at the pilot; where none is guarded, in the first one told of. */
  readonly levelsDb: LevelsDb;
  /** The lowest and the highest level over all ways of building. */
  readonly lowestDb: LevelsDb;
  readonly highestDb: LevelsDb;
  /** The way of building that `levelsDb` are of. */
  readonly realisation: string;
}

/** The curves of a mix, all over the same frequencies. */
export interface ResponseCurves {
  readonly frequenciesHz: Float64Array;
  /** What was asked: the analogue prototypes of all intents, those included that are not set. */
  readonly asked: LevelsDb;
  readonly set: DeskCurves;
  /** What every knob at its own nearest step would do; null where nothing else was chosen. */
  readonly nearest: DeskCurves | null;
}

const fromHz = hz(20);
/** As far as any pilot's window reaches, with some room; ways of building at 44.1 kHz end below. */
const toHz = hz(24000);
const perOctave = 48;
/** The pilot is looked at closely from here up, at points this far apart. */
const closeFromHz = 12000;
const closeStepHz = 10;

/** Points by ratio, closer together where the pilot is, and every filter's own frequency. */
const frequenciesFor = (filters: readonly { readonly frequencyHz: Hz }[]): Float64Array => {
  const close = Array.from(
    { length: (toHz - closeFromHz) / closeStepHz + 1 },
    (_, index) => closeFromHz + index * closeStepHz,
  );
  const own = filters
    .map(({ frequencyHz }): number => frequencyHz)
    .filter((frequencyHz) => frequencyHz > fromHz && frequencyHz < toHz);
  const all = [...logFrequencies(fromHz, toHz, perOctave), ...close, ...own];
  return Float64Array.from(new Set(all)).sort();
};

const over = (
  responses: readonly LevelsDb[],
  length: number,
  choose: (...values: number[]) => number,
): LevelsDb =>
  Float64Array.from({ length }, (_, index) =>
    // A way that ends below a frequency says nothing about it.
    choose(...responses.map((levelsDb) => numberAt(levelsDb, index)).filter((level) => !Number.isNaN(level))),
  ).map((level) => (Number.isFinite(level) ? level : Number.NaN));

/** The stretch round a pilot that is judged; null where nothing is guarded. */
type Window = { readonly pilotHz: Hz; readonly windowHz: Hz } | null;

/** The place, among ways of building, of the one that takes least at the pilot; the first where nothing is guarded. */
const worstAtPilot = (
  responses: readonly LevelsDb[],
  frequenciesHz: Float64Array,
  window: Window,
): number => {
  if (!window) return 0;
  const highest = responses.map((levelsDb) =>
    frequenciesHz.reduce(
      (most, frequencyHz, index) =>
        // A way that ends inside the window is judged by what it reaches: a comparison with NaN is false.
        Math.abs(frequencyHz - window.pilotHz) <= window.windowHz && numberAt(levelsDb, index) > most
          ? numberAt(levelsDb, index)
          : most,
      Number.NEGATIVE_INFINITY,
    ),
  );
  return Math.max(0, highest.indexOf(Math.max(...highest)));
};

const curvesOf = (
  chain: readonly Filter[],
  realisations: readonly Realisation[],
  frequenciesHz: Float64Array,
  window: Window,
): DeskCurves => {
  const responses = realisations.map((each) => responseDb(chain, each, frequenciesHz));
  const { length } = frequenciesHz;
  const drawn = worstAtPilot(responses, frequenciesHz, window);
  return {
    levelsDb: responses[drawn] ?? new Float64Array(length),
    lowestDb: over(responses, length, Math.min),
    highestDb: over(responses, length, Math.max),
    realisation: realisations[drawn]?.id ?? '',
  };
};

/** The ends of a window and its middle: points where curves are looked at whatever else is. */
const windowPoints = (window: Window): readonly { readonly frequencyHz: Hz }[] =>
  window ? [-1, 0, 1].map((side) => ({ frequencyHz: hz(window.pilotHz + side * window.windowHz) })) : [];

const chainOf = (filters: readonly PlacedFilter[]): readonly Filter[] =>
  filters.map(({ type, set }) => placedFilter(type, set));

/**
 * What the filters of a mix do from 20 Hz to 24 kHz: asked, set, and by hand, over every way of building of the target the
 * recipe was made for. Pure.
 */
export const responseCurves = (mix: RecipeMix, { realisations }: Target): ResponseCurves => {
  const { filters, missing, nearest, guard } = mix;
  const asked: readonly Filter[] = [
    // Further cuts beside the one asked for go by another role than their intent.
    ...filters.filter(({ role, asked }) => role === asked.role).map((placed) => placed.asked),
    ...missing.flatMap((each) => each.asked ?? []),
  ];
  const [set, byHand] = [chainOf(filters), nearest && chainOf(nearest.filters)];
  const frequenciesHz = frequenciesFor([...asked, ...set, ...(byHand ?? []), ...windowPoints(guard)]);
  return {
    frequenciesHz,
    asked: responseDb(asked, analoguePrototype, frequenciesHz),
    set: curvesOf(set, realisations, frequenciesHz, guard),
    nearest: byHand && curvesOf(byHand, realisations, frequenciesHz, guard),
  };
};

/** The curves of filters as they stand, and of what another setting would make of them, over the same frequencies. */
export interface StandingCurves {
  readonly frequenciesHz: Float64Array;
  readonly stands: DeskCurves;
  /** Null where no other setting is known. */
  readonly other: DeskCurves | null;
}

/** What stands does from 20 Hz to 24 kHz over every way of building, beside another setting. Pure. */
export const standingCurves = (
  standing: readonly Filter[],
  other: readonly Filter[] | null,
  { realisations }: Target,
  scope: GuardScope,
): StandingCurves => {
  const frequenciesHz = frequenciesFor([...standing, ...(other ?? []), ...windowPoints(scope)]);
  return {
    frequenciesHz,
    stands: curvesOf(standing, realisations, frequenciesHz, scope),
    other: other && curvesOf(other, realisations, frequenciesHz, scope),
  };
};
