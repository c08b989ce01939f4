import { cutPlaces } from '../analysis/reach/cut-places.js';
import { responseCurves } from '../analysis/response-curves.js';
import { closeHz, type ResponseView, stretchWords } from '../drawing/response-view.js';
import { buildChain } from '../filters/build.js';
import type { Desk } from '../model/desk.js';
import type { Guard, Recipe, RecipeMix } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { typeWords } from '../model/words.js';
import { formatDecibels, formatFrequency } from '../units/format.js';
import { db } from '../units/quantity.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import type { ExportContext } from './exporter.js';

const guardOf = (guard: Guard): Omit<NonNullable<ResponseView['guard']>, 'linkEndsHz'> => ({
  pilotHz: guard.pilotHz,
  windowHz: guard.windowHz,
  attenuationAtLeastDb: guard.limits.pilotAttenuationAtLeastDb,
  keepLowHz: guard.keepLowHz,
  keepHighHz: guard.keepHighHz,
  keepLossAtMostDb: guard.limits.keepLossAtMostDb,
});

const takenText = ({ worst: { pilotAttenuationDb } }: Guard): string =>
  pilotAttenuationDb < 0
    ? `${formatDecibels(db(-pilotAttenuationDb))} are added`
    : `${formatDecibels(pilotAttenuationDb)} are taken`;

/** The figure in words: for who does not see it. */
const descriptionOf = ({ guard, filters }: RecipeMix, ways: number): string => {
  const set = filters.map(({ type, set }) => `${typeWords[type]} at ${formatFrequency(set.frequencyHz)}`);
  const over = ways === 1 ? '' : `, in the worst of ${ways} ways the desk may build its filters`;
  return [
    `Level in dB over frequency, ${stretchWords(guard)}. Set: ${set.join('; ')}.`,
    ...(guard
      ? [
          `At the pilot, ${formatFrequency(guard.pilotHz)} +-${guard.windowHz} Hz, ${takenText(guard)} and ${formatDecibels(guard.limits.pilotAttenuationAtLeastDb)} asked${over}.`,
        ]
      : []),
  ].join(' ');
};

/** Why filters cannot be drawn: a recipe may have been edited since it was made; null where they can. */
const faultOf = (mix: RecipeMix, { target: { id } }: Recipe, target: Target): string | null => {
  if (id !== target.id) return `the recipe is for target ${quote(id)}, and ${quote(target.id)} was given`;
  const ways = target.realisations.map((each) => each.id).join();
  if (mix.guard && mix.guard.byRealisation.map((each) => each.id).join() !== ways) {
    return `target ${quote(id)} builds its filters otherwise now than when the recipe was made`;
  }
  const filters = [...mix.filters, ...(mix.nearest?.filters ?? [])];
  try {
    for (const each of target.realisations) {
      buildChain(
        filters.map(({ type, set }) => ({ type, ...set })),
        each,
      );
    }
    return null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
};

/** What all have in common; undefined where they differ. */
const common = <Value>(values: readonly Value[]): Value | undefined =>
  new Set(values.map((value) => JSON.stringify(value))).size === 1 ? values[0] : undefined;

/** The slots that are free on every mix of a group. */
const slotsOf = (mixes: readonly RecipeMix[], { slots }: Desk): Desk['slots'] =>
  slots.filter(({ id }) => mixes.every(({ freeSlots }) => freeSlots?.includes(id) ?? true));

/** Whether the choice is what every knob at its own nearest step gives: then there is no second curve. */
const isByHand = ({ filters, nearest }: RecipeMix): boolean =>
  nearest !== null && JSON.stringify(nearest.filters) === JSON.stringify(filters);

/**
 * What a response figure shows of mixes that share their settings: curves, guard, and where the desk's knobs can stand; or
 * why there is none.
 */
export const mixResponse = (
  mixes: readonly [RecipeMix, ...RecipeMix[]],
  recipe: Recipe,
  { target, desk }: Pick<ExportContext, 'target' | 'desk'>,
): Result<ResponseView, string> => {
  const [mix] = mixes;
  const fault = faultOf(mix, recipe, target);
  if (fault !== null) return fail(`No picture of these filters: ${fault}.`);
  const { frequenciesHz, asked, set, nearest } = responseCurves(mix, target);
  const count = target.realisations.length;
  const linkEndsHz = common(mixes.map(({ audioHighHz }) => audioHighHz)) ?? null;
  return ok({
    title: 'What the filters do over frequency',
    description: descriptionOf(mix, count),
    frequenciesHz,
    asked,
    set,
    byHand: isByHand(mix) ? null : (nearest?.levelsDb ?? null),
    ways: { count, drawn: set.realisation },
    guard: mix.guard && { ...guardOf(mix.guard), linkEndsHz },
    places:
      desk && mix.guard
        ? cutPlaces(
            slotsOf(mixes, desk),
            mix.filters.map(({ type, set }) => ({ type, frequencyHz: set.frequencyHz })),
            closeHz(mix.guard),
          )
        : null,
  });
};
