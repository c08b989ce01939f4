import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import type { Section } from '../../filters/section.js';
import { keepLossDb, pilotAttenuationDb, riseDb } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { centsBetween, type Db, db, hz } from '../../units/quantity.js';
import type { ActingFilter, Finding } from './inspection.js';

/** What filters do together, the worst over the ways a desk may build them. */
export interface Effects {
  /** The least that is taken in the pilot's window; negative where it is lifted. */
  pilotDb(filters: readonly Filter[]): Db;
  /** The most that is lost in the keep band. */
  lossDb(filters: readonly Filter[]): Db;
  /** The most that is raised anywhere. */
  riseDb(filters: readonly Filter[]): Db;
}

/** Works out effects for a desk's realisations and one guard. */
export const effectsFor = (realisations: readonly Realisation[], scope: GuardScope): Effects => {
  const over = (
    filters: readonly Filter[],
    figure: (chain: readonly Section[], realisation: Realisation) => Db,
    // Nothing at all comes to -0.
  ): readonly number[] => realisations.map((each) => figure(buildChain(filters, each), each) + 0);
  return {
    pilotDb: (filters) => db(Math.min(...over(filters, (chain) => pilotAttenuationDb(chain, scope)))),
    lossDb: (filters) => db(Math.max(...over(filters, (chain) => keepLossDb(chain, scope)))),
    riseDb: (filters) =>
      db(Math.max(...over(filters, (chain, { sampleRateHz }) => riseDb(chain, sampleRateHz)))),
  };
};

/** What would be told as 0.0 dB is not told. */
export const toldDb = 0.05;

/** A cut meant for the pilot lies within a third of an octave of it. Common practice, no source. */
export const nearCents = 400;

/** A cut that would take so much more centred on the pilot misses it. Common practice, no source. */
const missedDb = 0.5;

/** What a set of filters is held against. */
export interface PilotContext {
  readonly effects: Effects;
  readonly scope: GuardScope;
}

const filtersOf = (filters: readonly ActingFilter[]) => filters.map(({ filter }) => filter);

/** Whether a filter is a bell or notch that cuts near the pilot. */
const isNearCut =
  ({ pilotHz }: GuardScope) =>
  ({ filter: { type, frequencyHz, gainDb = db(0) } }: ActingFilter): boolean =>
    (type === 'notch' || (type === 'peaking' && gainDb < -toldDb)) &&
    Math.abs(centsBetween(pilotHz, frequencyHz)) <= nearCents;

/** The filters that lift the pilot, the one that lifts it most first. */
export const liftsOf = (
  acting: readonly ActingFilter[],
  { effects }: Pick<PilotContext, 'effects'>,
): readonly Extract<Finding, { readonly kind: 'lifts-pilot' }>[] =>
  acting
    .map((placed) => ({
      kind: 'lifts-pilot' as const,
      ...placed,
      liftDb: db(-effects.pilotDb([placed.filter])),
    }))
    .filter(({ liftDb }) => liftDb >= toldDb)
    .sort((a, b) => b.liftDb - a.liftDb);

const findingOf = (placed: ActingFilter, { effects, scope: { pilotHz } }: PilotContext): Finding => {
  const pilotDb = effects.pilotDb([placed.filter]);
  const centredDb = effects.pilotDb([{ ...placed.filter, frequencyHz: pilotHz }]);
  if (centredDb - pilotDb < missedDb) return { kind: 'cut-too-weak', ...placed, pilotDb };
  const { frequencyHz } = placed.filter;
  return {
    kind: 'cut-misses',
    ...placed,
    offsetHz: hz(frequencyHz - pilotHz),
    offsetCents: centsBetween(pilotHz, frequencyHz),
    pilotDb,
    centredDb,
  };
};

/** Why too little is taken at the pilot: what is missing or off, what is amiss with the cuts, what lifts it. */
export const shortPilotFindings = (
  acting: readonly ActingFilter[],
  off: readonly ActingFilter[],
  context: PilotContext,
): readonly Finding[] => {
  const { effects, scope } = context;
  const lifts = liftsOf(acting, context);
  const others = acting.filter(({ slot }) => !lifts.some((lift) => lift.slot === slot));
  const othersDb = effects.pilotDb(filtersOf(others));
  // Where the cuts would do without what lifts the pilot, only that is to blame.
  if (lifts.length > 0 && othersDb >= scope.pilotAttenuationAtLeastDb) return lifts;
  const nearCuts = others.filter(isNearCut(scope));
  const standsDb = effects.pilotDb(filtersOf(acting));
  const switchedOff = off.filter(isNearCut(scope)).flatMap((placed): readonly Finding[] => {
    const pilotDb = effects.pilotDb(filtersOf([...acting, placed]));
    return pilotDb - standsDb >= toldDb ? [{ kind: 'cut-is-off', ...placed, pilotDb }] : [];
  });
  return [
    ...(nearCuts.length === 0 ? [{ kind: 'no-cut-near' as const, pilotDb: othersDb }] : []),
    ...switchedOff,
    ...nearCuts.map((placed) => findingOf(placed, context)),
    ...lifts,
  ];
};
