import { buildChain } from '../../filters/build.js';
import type { FilterType } from '../../filters/filter.js';
import { guardFigures, guardHolds, worstFigures } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk } from '../../model/desk.js';
import type { Db } from '../../units/quantity.js';
import { viewSlot } from '../plan/readback.js';
import { otherNamesOf } from '../write/names.js';
import type { SurveyedMix, SurveyedSlot } from '../write/survey.js';
import type {
  ActingFilter,
  Finding,
  InspectedMix,
  InspectedOutput,
  InspectionContext,
  PilotState,
  WeighedFinding,
} from './inspection.js';
import { effectsFor, liftsOf, type PilotContext, shortPilotFindings } from './pilot-findings.js';
import { standingFilter } from './standing-filter.js';

type Slots = InspectedOutput['slots'];

export const filtersIn = (slots: Slots, state: 'acts' | 'off'): readonly ActingFilter[] =>
  slots.flatMap((each) =>
    each.state === state && each.filter !== null ? [{ slot: each.slot, filter: each.filter }] : [],
  );

const most = (
  filters: readonly ActingFilter[],
  figure: (placed: ActingFilter) => Db,
): ActingFilter | undefined =>
  filters.reduce<ActingFilter | undefined>(
    (before, placed) => (before === undefined || figure(placed) > figure(before) ? placed : before),
    undefined,
  );

const weigh =
  (weight: WeighedFinding['weight']) =>
  (finding: Finding): WeighedFinding => ({ ...finding, weight });

/** What the filters do to the music, where that is more than the guard allows. */
const musicFindings = (
  acting: readonly ActingFilter[],
  figures: { readonly keepLossDb: Db; readonly riseDb: Db },
  { effects, scope }: PilotContext,
): readonly Finding[] => {
  const within = { keepLossDb: scope.keepLossAtMostDb, riseDb: scope.riseAtMostDb };
  const pilotAttenuationDb = scope.pilotAttenuationAtLeastDb;
  const holds = (figure: Partial<typeof within>): boolean =>
    guardHolds({ pilotAttenuationDb, ...within, ...figure }, scope);
  const losing = most(acting, ({ filter }) => effects.lossDb([filter]));
  const raising = most(acting, ({ filter }) => effects.riseDb([filter]));
  const { keepLossDb: lossDb, riseDb } = figures;
  return [
    ...(losing && !holds({ keepLossDb: lossDb })
      ? [{ kind: 'music-lost' as const, ...losing, lossDb, limitDb: scope.keepLossAtMostDb }]
      : []),
    ...(raising && !holds({ riseDb })
      ? [{ kind: 'level-raised' as const, ...raising, riseDb, limitDb: scope.riseAtMostDb }]
      : []),
  ];
};

const missing = (
  kind: 'no-low-cut' | 'no-high-cut',
  type: FilterType,
  acting: readonly ActingFilter[],
  off: readonly ActingFilter[],
): readonly Finding[] => {
  const isThat = ({ filter }: ActingFilter): boolean => filter.type === type;
  return acting.some(isThat) ? [] : [{ kind, offIn: off.find(isThat)?.slot ?? null }];
};

const pilotHolds = (pilotAttenuationDb: Db, scope: GuardScope): boolean =>
  guardHolds({ pilotAttenuationDb, keepLossDb: scope.keepLossAtMostDb, riseDb: scope.riseAtMostDb }, scope);

/** What the slots of one output amount to: to the pilot, to the music, and why. */
const inspectOutput = (
  output: number,
  surveyed: readonly SurveyedSlot[],
  desk: Desk,
  { scope, roles }: InspectionContext,
): InspectedOutput => {
  const { realisations } = desk.target;
  const slots = surveyed.map(({ plan, found }) => ({
    slot: plan.slot.id,
    view: viewSlot(plan, found, desk),
    ...standingFilter(plan, found, desk),
  }));
  const [acting, off] = [filtersIn(slots, 'acts'), filtersIn(slots, 'off')];
  const context = { effects: effectsFor(realisations, scope), scope };
  const unclear = slots.flatMap((each): readonly Finding[] =>
    each.state === 'not-known' ? [{ kind: 'unclear', slot: each.slot, unclear: each.unclear }] : [],
  );
  if (unclear.length > 0) {
    const findings = [...unclear, ...liftsOf(acting, context)].map(weigh('risk'));
    const unjudged = { byRealisation: [], worst: null, verdict: null, recipe: null };
    return { output, state: 'not-known', slots, ...unjudged, findings };
  }
  const filters = acting.map(({ filter }) => filter);
  const byRealisation = realisations.map((realisation) => ({
    id: realisation.id,
    ...guardFigures(buildChain(filters, realisation), scope, realisation.sampleRateHz),
  }));
  const worst = worstFigures(byRealisation);
  const isSafe = pilotHolds(worst.pilotAttenuationDb, scope);
  const pilot = isSafe ? liftsOf(acting, context) : shortPilotFindings(acting, off, context);
  const told = isSafe ? weigh('notice') : weigh('risk');
  return {
    output,
    state: isSafe ? 'safe' : 'at-risk',
    slots,
    byRealisation,
    worst,
    verdict: guardHolds(worst, scope) ? 'met' : 'falls-short',
    recipe: null,
    findings: [
      ...pilot.map(told),
      ...(roles.includes('high-cut') ? missing('no-high-cut', 'lowpass', acting, off).map(told) : []),
      ...musicFindings(acting, worst, context).map(weigh('notice')),
      ...(roles.includes('low-cut')
        ? missing('no-low-cut', 'highpass', acting, off).map(weigh('notice'))
        : []),
    ],
  };
};

/** From best to worst: one leg that is known to fail fails the mix, whatever the other may be. */
const worstLast: readonly PilotState[] = ['safe', 'not-known', 'at-risk'];

/** What a mix that was read does to its pilot; nothing is read or written here. */
export const inspectMix = (mix: SurveyedMix, desk: Desk, context: InspectionContext): InspectedMix => {
  const { name, outputs } = mix.plan;
  const places = [...new Set(mix.slots.map(({ plan }) => plan.output))];
  const read = places.map((output) =>
    inspectOutput(
      output,
      mix.slots.filter(({ plan }) => plan.output === output),
      desk,
      context,
    ),
  );
  const states = read.map(({ state }) => state);
  return {
    name,
    outputs,
    state: worstLast.findLast((state) => states.includes(state)) ?? 'not-known',
    scope: context.scope,
    keepLossAsAskedDb: context.keepLossAsAskedDb,
    recipe: null,
    read,
    otherNames: otherNamesOf(mix),
    problems: mix.problems,
  };
};
