import { buildSections } from '../filters/build.js';
import type { Filter } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import { logFrequencies } from '../filters/response.js';
import { placedFilter } from '../fitting/placement.js';
import { analoguePrototype, responseDb } from '../fitting/response.js';
import { pilotAttenuationDb } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { PlacedFilter, RecipeMix } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { numberAt } from '../units/at.js';
import { db, type Hz, hz } from '../units/quantity.js';

/** Levels in dB at the frequencies of the set they belong to; NaN where a way of building has no response. */
export type LevelsDb = Float64Array;

/** What filters do over frequency, in every way a desk may build them. */
export interface DeskCurves {
  /** In the way of building that takes least at the pilot; where none is guarded, in the first one told of. */
  readonly levelsDb: LevelsDb;
  /** The lowest and the highest level over all ways of building. */
  readonly lowestDb: LevelsDb;
  readonly highestDb: LevelsDb;
}

/** The curves of a mix, all over the same frequencies. */
export interface ResponseCurves {
  readonly frequenciesHz: Float64Array;
  /** What was asked: the analogue prototypes of all intents, those included that are not set. */
  readonly asked: LevelsDb;
  readonly set: DeskCurves;
  /** What every knob at its own nearest step would do; null where nothing else was chosen. */
  readonly nearest: DeskCurves | null;
  /** The way of building that `set` is drawn for. */
  readonly realisation: string;
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

const curvesOf = (
  chain: readonly Filter[],
  realisations: readonly Realisation[],
  drawn: number,
  frequenciesHz: Float64Array,
): DeskCurves => {
  const responses = realisations.map((each) => responseDb(chain, each, frequenciesHz));
  const { length } = frequenciesHz;
  return {
    levelsDb: responses[drawn] ?? new Float64Array(length),
    lowestDb: over(responses, length, Math.min),
    highestDb: over(responses, length, Math.max),
  };
};

const chainOf = (filters: readonly PlacedFilter[]): readonly Filter[] =>
  filters.map(({ type, set }) => placedFilter(type, set));

/** The place, among ways of building, of the one that takes least at the pilot; the first where nothing is guarded. */
const worstAtPilot = ({ guard }: RecipeMix): number => {
  const taken = guard?.byRealisation.map(({ pilotAttenuationDb }): number => pilotAttenuationDb) ?? [];
  return Math.max(0, taken.indexOf(Math.min(...taken)));
};

/**
 * What the filters of a mix do from 20 Hz to 22 kHz: asked, set, and by hand, over every way of building of the target the
 * recipe was made for. Pure.
 */
export const responseCurves = (mix: RecipeMix, { realisations }: Target): ResponseCurves => {
  const { filters, missing, nearest } = mix;
  const asked: readonly Filter[] = [
    // Further cuts beside the one asked for go by another role than their intent.
    ...filters.filter(({ role, asked }) => role === asked.role).map((placed) => placed.asked),
    ...missing.flatMap((each) => each.asked ?? []),
  ];
  const others = nearest?.filters ?? [];
  const frequenciesHz = frequenciesFor([...asked, ...[...filters, ...others].map(({ set }) => set)]);
  const drawn = worstAtPilot(mix);
  return {
    frequenciesHz,
    asked: responseDb(asked, analoguePrototype, frequenciesHz),
    set: curvesOf(chainOf(filters), realisations, drawn, frequenciesHz),
    nearest: nearest && curvesOf(chainOf(nearest.filters), realisations, drawn, frequenciesHz),
    realisation: realisations[drawn]?.id ?? '',
  };
};

/** The curves of filters as they stand, and of what another setting would make of them, over the same frequencies. */
export interface StandingCurves {
  readonly frequenciesHz: Float64Array;
  readonly stands: DeskCurves;
  /** In the way of building that takes least at the pilot; null where no other setting is known. */
  readonly other: LevelsDb | null;
  /** The way of building that `stands` is drawn for. */
  readonly realisation: string;
}

/** What stands does from 20 Hz to 22 kHz over every way of building, beside another setting. Pure. */
export const standingCurves = (
  standing: readonly Filter[],
  other: readonly Filter[] | null,
  { realisations }: Target,
  scope: GuardScope,
): StandingCurves => {
  const frequenciesHz = frequenciesFor([...standing, ...(other ?? [])]);
  const worstWay = (filters: readonly Filter[]): number => {
    const taken = realisations.map((each) =>
      pilotAttenuationDb(
        filters.flatMap((filter) => buildSections(filter, each)),
        scope,
      ),
    );
    return Math.max(0, taken.indexOf(db(Math.min(...taken))));
  };
  const drawn = worstWay(standing);
  return {
    frequenciesHz,
    stands: curvesOf(standing, realisations, drawn, frequenciesHz),
    other: other && curvesOf(other, realisations, worstWay(other), frequenciesHz).levelsDb,
    realisation: realisations[drawn]?.id ?? '',
  };
};
