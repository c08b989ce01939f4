import type { Filter, FilterType } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import type { ProtectiveRole } from '../../model/intent.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { oscOf } from '../../osc/address.js';
import { centsBetween } from '../../units/quantity.js';
import { planFilter } from '../plan/plan-push.js';
import type { SurveyedMix } from '../write/survey.js';
import { slotHolds } from '../write/verify.js';
import { filtersIn } from './inspect-mix.js';
import type {
  ActingFilter,
  Finding,
  InspectedMix,
  InspectedOutput,
  MixRecipe,
  WeighedFinding,
} from './inspection.js';
import { type Effects, effectsFor, liftsOf, nearCents, toldDb } from './pilot-findings.js';

const roleOf = {
  'no-low-cut': 'low-cut',
  'no-high-cut': 'high-cut',
} as const satisfies Readonly<Record<string, ProtectiveRole>>;

type MissingCut = Extract<WeighedFinding, { readonly kind: keyof typeof roleOf }>;

const isMissingCut = (finding: WeighedFinding): finding is MissingCut => finding.kind in roleOf;

/** Whether anything was found that a setting mends, so that its recipe must be known before anybody is told which. */
export const needsRecipe = ({ read }: InspectedMix): boolean =>
  read.some(
    ({ state, findings }) => state === 'at-risk' || (state === 'safe' && findings.some(isMissingCut)),
  );

/** The filters of a recipe that do not stand on an output: by step, as a verification tells. */
const unsetOf = (
  filters: readonly PlacedFilter[],
  output: number,
  mix: SurveyedMix,
  desk: Desk,
): readonly PlacedFilter[] => {
  const osc = oscOf(desk.target);
  if (!osc.ok) return filters;
  const target = { ...desk.target, osc: osc.value };
  return filters.filter((placed) => {
    const wanted = planFilter({ mix: mix.plan.name, output, placed, path: placed.slot }, desk, target);
    const read = mix.slots.find(({ plan }) => plan.output === output && plan.slot.id === placed.slot);
    // What OSC cannot set it cannot tell to stand either.
    return !wanted.ok || !read || !slotHolds({ plan: wanted.value, found: read.found }, desk);
  });
};

/** An output, its recipe, and what the one would come to with the other. */
interface Beside {
  readonly found: InspectedOutput;
  readonly recipe: MixRecipe;
  readonly toSet: readonly PlacedFilter[];
  readonly acting: readonly ActingFilter[];
  /** What acts in slots that the recipe leaves as they are, and what of it lifts the pilot. */
  readonly others: readonly ActingFilter[];
  readonly lifts: readonly ActingFilter[];
  readonly effects: Effects;
}

const filtersWith = (others: readonly ActingFilter[], { recipe }: Beside): readonly Filter[] => [
  ...recipe.filters.map(({ type, set }): Filter => ({ type, ...set })),
  ...others.map(({ filter }) => filter),
];

const cuts: readonly FilterType[] = ['lowpass', 'highpass'];

/** What acts where a recipe has something else, of another type or for elsewhere in the spectrum: perhaps in use. */
const inUse = ({ recipe, toSet, acting }: Beside): readonly ActingFilter[] =>
  (recipe.areSlotsListed ? [] : acting).filter(({ slot, filter }) => {
    const placed = toSet.find((each) => each.slot === slot);
    if (!placed) return false;
    if (placed.type !== filter.type) return true;
    const apart = Math.abs(centsBetween(placed.set.frequencyHz, filter.frequencyHz));
    return !cuts.includes(filter.type) && apart > nearCents;
  });

/** What there is to do for a pilot at risk: what the recipe sets; or that it stands, or does no better. */
const remedy = (beside: Beside): Finding => {
  const { found, toSet, others, lifts, effects } = beside;
  const hasLifts = lifts.length > 0;
  if (toSet.length === 0) {
    const unlifted = others.filter(({ slot }) => !lifts.some((lift) => lift.slot === slot));
    return { kind: 'as-recipe', pilotDb: effects.pilotDb(filtersWith(unlifted, beside)), hasLifts };
  }
  const filters = filtersWith(others, beside);
  const [pilotDb, lossDb] = [effects.pilotDb(filters), effects.lossDb(filters)];
  return pilotDb - (found.worst?.pilotAttenuationDb ?? 0) >= toldDb
    ? {
        kind: 'recipe-sets',
        filters: toSet,
        inUse: inUse(beside),
        pilotDb,
        lossDb,
        isMoreLost: lossDb - (found.worst?.keepLossDb ?? 0) >= toldDb,
        hasLifts,
      }
    : { kind: 'recipe-no-better', pilotDb, hasLifts };
};

/** A missing cut, beside what its recipe has for it; nothing where that stands as another kind of filter. */
const besideMissing = (
  finding: MissingCut,
  { recipe: { filters, missing }, toSet, acting }: Beside,
  isTold: boolean,
): readonly WeighedFinding[] => {
  const role = roleOf[finding.kind];
  const placed = filters.find((each) => each.role === role);
  if (placed && !toSet.includes(placed)) return [];
  // What acts in that slot may be what keeps the pilot safe.
  const isTaken = acting.some(({ slot }) => slot === placed?.slot);
  if (placed) return [isTold || isTaken ? finding : { ...finding, recipe: placed }];
  const none = missing.find((each) => each.role === role);
  return [none ? { ...finding, weight: 'notice', recipe: none.why } : finding];
};

/** Where the cuts would do without what lifts the pilot, that alone is to be turned down. */
const isLiftAlone = (findings: readonly WeighedFinding[]): boolean => {
  const pilot = findings.filter((each) => each.weight === 'risk' && !isMissingCut(each));
  return pilot.length > 0 && pilot.every(({ kind }) => kind === 'lifts-pilot');
};

/** What was found, less what is as its recipe has it, and what is to be done. */
const findingsBeside = (beside: Beside): readonly WeighedFinding[] => {
  const { found, recipe, toSet } = beside;
  const slotsOf = (filters: readonly PlacedFilter[]): ReadonlySet<string> =>
    new Set(filters.map(({ slot }) => slot));
  const [own, unset] = [slotsOf(recipe.filters), slotsOf(toSet)];
  const stands = toSet.length === 0;
  const isAsRecipe = (finding: WeighedFinding): boolean =>
    finding.weight === 'risk' &&
    ('slot' in finding
      ? (own.has(finding.slot) && !unset.has(finding.slot)) || (stands && finding.kind !== 'lifts-pilot')
      : stands && finding.kind === 'no-cut-near');
  const amiss = found.findings.filter((finding) => !isAsRecipe(finding));
  const isLift = isLiftAlone(found.findings) && amiss.some(({ kind }) => kind === 'lifts-pilot');
  const what = found.state === 'at-risk' && (stands || !isLift) ? remedy(beside) : null;
  const told = amiss.flatMap((finding): readonly WeighedFinding[] => {
    if (isMissingCut(finding)) return besideMissing(finding, beside, what?.kind === 'recipe-sets');
    return finding.kind === 'lifts-pilot' && what !== null
      ? [{ ...finding, isReplaced: unset.has(finding.slot) }]
      : [finding];
  });
  return [
    ...told.filter(({ weight }) => weight === 'risk'),
    ...(what ? [{ ...what, weight: 'risk' as const }] : []),
    ...told.filter(({ weight }) => weight === 'notice'),
  ];
};

/**
 * A mix that was inspected beside the recipe that would be made for it now, so that whatever is advised agrees with that:
 * what stands as its recipe is not to be turned, and what is to be turned goes where the recipe has it.
 */
export const besideRecipe = (
  inspected: InspectedMix,
  surveyed: SurveyedMix,
  recipe: MixRecipe,
  desk: Desk,
): InspectedMix => {
  const effects = effectsFor(desk.target.realisations, inspected.scope);
  return {
    ...inspected,
    recipe,
    read: inspected.read.map((found): InspectedOutput => {
      if (found.state === 'not-known') return found;
      const toSet = unsetOf(recipe.filters, found.output, surveyed, desk);
      const acting = filtersIn(found.slots, 'acts');
      const others = acting.filter(({ slot }) => !recipe.filters.some((placed) => placed.slot === slot));
      const lifts = liftsOf(others, { effects });
      const beside = { found, recipe, toSet, acting, others, lifts, effects };
      const filters = filtersWith(others, beside);
      return {
        ...found,
        recipe: {
          stands: toSet.length === 0,
          toSet,
          pilotAttenuationDb: effects.pilotDb(filters),
          keepLossDb: effects.lossDb(filters),
        },
        findings: findingsBeside(beside),
      };
    }),
  };
};
