import type { Filter } from '../filters/filter.js';
import { logFrequencies } from '../filters/response.js';
import { placedFilter } from '../fitting/placement.js';
import { analoguePrototype, responseDb } from '../fitting/response.js';
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
/** Beyond the pilot's mirror nothing is of interest, and some ways of building end at 22.05 kHz. */
const toHz = hz(22000);
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

/** The place, among ways of building, of the one that takes least at the pilot; the first where nothing is guarded. */
const worstAtPilot = (
  { guard }: RecipeMix,
  responses: readonly LevelsDb[],
  frequenciesHz: Float64Array,
): number => {
  if (!guard) return 0;
  const highest = responses.map((levelsDb) =>
    frequenciesHz.reduce(
      (most, frequencyHz, index) =>
        Math.abs(frequencyHz - guard.pilotHz) <= guard.windowHz
          ? Math.max(most, numberAt(levelsDb, index))
          : most,
      Number.NEGATIVE_INFINITY,
    ),
  );
  return Math.max(0, highest.indexOf(Math.max(...highest)));
};

/**
 * What the filters of a mix do from 20 Hz to 22 kHz: asked, set, and by hand, over every way of building of the target the
 * recipe was made for. Pure.
 */
export const responseCurves = (mix: RecipeMix, { realisations }: Target): ResponseCurves => {
  const { filters, missing, nearest, guard } = mix;
  const asked: readonly Filter[] = [
    // Further cuts beside the one asked for go by another role than their intent.
    ...filters.filter(({ role, asked }) => role === asked.role).map((placed) => placed.asked),
    ...missing.flatMap((each) => each.asked ?? []),
  ];
  const others = nearest?.filters ?? [];
  const frequenciesHz = frequenciesFor([
    ...asked,
    ...[...filters, ...others].map(({ set }) => set),
    ...(guard ? [guard.pilotHz - guard.windowHz, guard.pilotHz, guard.pilotHz + guard.windowHz] : []).map(
      (frequencyHz) => ({ frequencyHz: hz(frequencyHz) }),
    ),
  ]);
  const curvesOf = (placed: readonly PlacedFilter[]): DeskCurves => {
    const chain = placed.map(({ type, set }) => placedFilter(type, set));
    const responses = realisations.map((each) => responseDb(chain, each, frequenciesHz));
    const { length } = frequenciesHz;
    const drawn = worstAtPilot(mix, responses, frequenciesHz);
    return {
      levelsDb: responses[drawn] ?? new Float64Array(length),
      lowestDb: over(responses, length, Math.min),
      highestDb: over(responses, length, Math.max),
      realisation: realisations[drawn]?.id ?? '',
    };
  };
  return {
    frequenciesHz,
    asked: responseDb(asked, analoguePrototype, frequenciesHz),
    set: curvesOf(filters),
    nearest: nearest && curvesOf(nearest.filters),
  };
};
