import { buildChain, buildSections } from '../../../src/filters/build.js';
import type { Filter, FilterType } from '../../../src/filters/filter.js';
import { magnitudeDb } from '../../../src/filters/response.js';
import type { Section } from '../../../src/filters/section.js';
import { nearest } from '../../../src/fitting/nearest.js';
import { placedFilter } from '../../../src/fitting/placement.js';
import { serviceOf } from '../../../src/fitting/stand-ins.js';
import type { DeskSlot, DeskSlotType } from '../../../src/model/desk.js';
import type { Intent } from '../../../src/model/intent.js';
import { knobNames, knobs } from '../../../src/model/knob.js';
import type { Band } from '../../../src/model/recipe.js';
import {
  guardBandDb,
  keepFrequencies,
  pilotAttenuationDb,
  riseFrequencies,
} from '../../../src/multiplex/guard-figures.js';
import type { GuardScope } from '../../../src/multiplex/guard-scope.js';
import { step } from '../../../src/units/quantity.js';
import type { Case } from './cases.js';

/** Rounding: figures nearer than this are the same. */
export const equalDb = 1e-9;

/** Every filter a slot can make of one type, its gain not above 0. */
const filtersOf = ({ type, grids, family }: DeskSlotType): readonly Filter[] => {
  let made: readonly Record<string, unknown>[] = [
    { type, ...(grids.slope && { family: family ?? 'butterworth' }) },
  ];
  for (const knob of knobNames) {
    const grid = grids[knob];
    if (!grid) continue;
    const values = Array.from({ length: grid.count }, (_, index) => grid.valueAt(step(index)));
    const allowed = knob === 'gain' ? values.filter((value) => value <= 0) : values;
    made = made.flatMap((filter) => allowed.map((value) => ({ ...filter, [knobs[knob].value]: value })));
  }
  return made as unknown as readonly Filter[];
};

/** Beyond a third of an octave it is another filter. */
const isNear = (frequencyHz: number, wantedHz: number): boolean =>
  Math.abs(Math.log2(frequencyHz / wantedHz)) <= 1 / 3 + 1e-12;

/** A filter with its sections, one list a realisation. */
interface Built {
  readonly filter: Filter;
  readonly sections: readonly (readonly Section[])[];
}

type Offer = readonly Built[];

interface Problem {
  readonly free: readonly DeskSlot[];
  readonly fixed: readonly Filter[];
  readonly highOn: (slot: DeskSlot, type: FilterType, nearOnly: boolean) => Offer;
  readonly cutOn: (slot: DeskSlot) => Offer;
}

const problemOf = (
  { target, intents, context }: Case,
  high: Intent | undefined,
  pilot: Intent | undefined,
): Problem => {
  const moves = (band: Band): boolean => band.asked === high || band.asked === pilot;
  const fixedBands = nearest.fit(intents, context).bands.filter((band) => !moves(band));
  const pilotHz = context.scope?.pilotHz ?? 0;
  const built = (filter: Filter): Built => ({
    filter,
    sections: target.realisations.map((realisation) => buildSections(filter, realisation)),
  });
  return {
    free: context.slots.filter(({ id }) => !fixedBands.some(({ slot }) => slot === id)),
    fixed: fixedBands.map(({ type, set }) => placedFilter(type, set)),
    highOn: ({ types }, type, nearOnly) => {
      const slotType = types.get(type);
      const service = slotType && high && serviceOf(high, new Map([[type, slotType]]));
      if (!slotType || !high || (nearOnly && !service)) return [];
      const filters = filtersOf(slotType);
      const wantedHz = service?.intent.frequencyHz ?? 0;
      return !nearOnly || filters.some(({ frequencyHz }) => isNear(frequencyHz, wantedHz))
        ? filters.map(built)
        : [];
    },
    cutOn: ({ types }) =>
      pilot
        ? (['peaking', 'notch'] as const)
            .flatMap((type) => types.get(type) ?? [])
            // A bell that cannot cut serves for no notch.
            .filter((slotType) => serviceOf(pilot, new Map([[slotType.type, slotType]])) !== null)
            .flatMap(filtersOf)
            .filter(({ frequencyHz }) => isNear(frequencyHz, pilotHz))
            .map(built)
        : [],
  };
};

/** Every way of taking so many slots of those left, each with one of its filters; of like slots the first ones. */
const cutChoices = function* (
  slots: readonly { readonly slot: DeskSlot; readonly offer: Offer }[],
  count: number,
): Generator<readonly Built[]> {
  if (count === 0) yield [];
  for (const [index, { offer }] of slots.entries()) {
    if (count === 0) return;
    for (const built of offer) {
      for (const rest of cutChoices(slots.slice(index + 1), count - 1)) yield [built, ...rest];
    }
  }
};

/** What a choice comes to: worst figures over realisations. */
export interface Plain {
  readonly filters: readonly Filter[];
  readonly attenuationDb: number;
  readonly lossDb: number;
  readonly guardBandDb: number;
}

export interface Exhausted {
  readonly best: Plain;
  /** The limit it was held to: the one asked or, to a tenth up, the least that any choice keeps. */
  readonly heldToDb: number;
  /** The least limit any choice of the same kind keeps altogether; null where the one asked is kept. */
  readonly leastDb: number | null;
}

const levels = (chain: readonly Section[], frequenciesHz: Float64Array): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(chain, frequenciesHz, out);
  return out;
};

/** A judge of chains, one chain a realisation. */
const judgeOf = ({ target: { realisations }, context }: Case, fixed: readonly Filter[]) => {
  const scope = context.scope as GuardScope;
  const keepHz = keepFrequencies(scope);
  const alone = realisations.map((realisation) => {
    const chain = buildChain(fixed, realisation);
    const riseHz = riseFrequencies(realisation.sampleRateHz);
    return { realisation, riseHz, chain, keep: levels(chain, keepHz), rise: levels(chain, riseHz) };
  });
  const chains = (moving: readonly Built[]) =>
    alone.map(({ chain, ...rest }, r) => ({
      ...rest,
      sections: [...chain, ...moving.flatMap(({ sections }) => sections[r] ?? [])],
    }));
  type Chains = ReturnType<typeof chains>;
  return {
    chains,
    attenuationDb: (all: Chains) =>
      Math.min(...all.map(({ sections }) => pilotAttenuationDb(sections, scope))),
    lossDb: (all: Chains) => Math.max(...all.map(({ sections }) => -Math.min(...levels(sections, keepHz)))),
    guardBandDb: (all: Chains) =>
      Math.min(
        ...all.map(({ sections, realisation }) => guardBandDb(sections, scope, realisation.sampleRateHz)),
      ),
    /** Nothing rises above 0.1 dB, nor above what the fixed filters alone rise by, where that is more. */
    doesNotRise: (all: Chains) =>
      all.every(({ sections, riseHz, rise }) =>
        levels(sections, riseHz).every((level, i) => level <= Math.max(0.1, rise[i] as number) + equalDb),
      ),
    /**
     * Nothing in the keep band is lost beyond the limit; where the fixed filters alone lose more than was asked, the
     * others lose no more than was asked.
     */
    keeps: (all: Chains, limitDb: number) =>
      all.every(({ sections, keep }) =>
        levels(sections, keepHz).every((level, i) => {
          const fixedDb = -(keep[i] as number);
          const askedDb = scope.keepLossAtMostDb;
          const own = fixedDb > askedDb + equalDb ? Math.max(limitDb, fixedDb + askedDb) : limitDb;
          return -level <= own + equalDb;
        }),
      ),
  };
};

/** The limits tried: the one asked, then every tenth above it. */
const limitsFrom = function* (askedDb: number): Generator<number> {
  yield askedDb;
  for (let tenth = Math.floor(10 * askedDb + 1e-9) + 1; tenth <= 600; tenth++) yield tenth / 10;
};

/** The choices of one line-up. */
type Choices = () => Generator<readonly Built[]>;

/** Line-ups tried together, and whether they may lose more than asked. */
interface Attempt {
  readonly lineUps: readonly Choices[];
  readonly mayLoseMore: boolean;
}

const attemptsOf = ({ free, highOn, cutOn }: Problem, mostCuts: number): readonly Attempt[] => {
  const cuts = function* (slots: readonly DeskSlot[]): Generator<readonly Built[]> {
    const offers = slots.map((slot) => ({ slot, offer: cutOn(slot) }));
    for (let count = 1; count <= mostCuts; count++) yield* cutChoices(offers, count);
  };
  const high = (type: FilterType, nearOnly: boolean, withCuts: boolean): Choices =>
    function* () {
      for (const slot of free) {
        for (const built of highOn(slot, type, nearOnly)) {
          if (!withCuts) yield [built];
          else for (const rest of cuts(free.filter((other) => other !== slot))) yield [built, ...rest];
        }
      }
    };
  const isPossible = (choices: Choices): boolean => !choices().next().done;
  const nearCut = isPossible(high('lowpass', true, false));
  const pilotAlone: Choices = () => cuts(free);
  const both = (type: FilterType, nearOnly: boolean): Choices => high(type, nearOnly, true);
  const alone = (type: FilterType, nearOnly: boolean): Choices => high(type, nearOnly, false);

  const farCuts = both('lowpass', false);
  const farShelves = both('highshelf', false);
  const kinds = [
    { all: [farCuts], near: [both('lowpass', true)] },
    { all: [farCuts, farShelves], near: [both('highshelf', true)] },
    {
      all: [
        farCuts,
        farShelves,
        pilotAlone,
        alone('lowpass', false),
        ...(nearCut ? [] : [alone('highshelf', false)]),
      ],
      near: [pilotAlone, alone(nearCut ? 'lowpass' : 'highshelf', true)],
    },
  ];
  return kinds
    .filter(({ near }, index) => index === 2 || near.some(isPossible))
    .flatMap(({ all, near }) => [
      { lineUps: all, mayLoseMore: false },
      { lineUps: near, mayLoseMore: true },
    ]);
};

/**
 * The best choice, by looking at all of them: the most attenuation, of equals the least loss, then the most taken out
 * of the guard band; null where there is nothing to choose. Both the high cut and the pilot cut have a place if they
 * can, a high shelf serving where no high cut can be had; else the one of them that attenuates more.
 */
export const exhaust = (each: Case): Exhausted | null => {
  const { intents, context } = each;
  const pilot = intents.find(({ role }) => role === 'pilot-cut');
  const high = intents.find(({ role }) => role === 'high-cut');
  const problem = problemOf(each, high, pilot);
  const judge = judgeOf(each, problem.fixed);
  const askedDb = context.scope?.keepLossAtMostDb ?? 0;

  const bestWithin = (lineUps: readonly Choices[], limitDb: number, strictly = false): Plain | null => {
    let best: Plain | null = null;
    for (const choices of lineUps) {
      for (const moving of choices()) {
        const chains = judge.chains(moving);
        const attenuationDb = judge.attenuationDb(chains);
        if (best && attenuationDb < best.attenuationDb - equalDb) continue;
        const keeps = strictly ? judge.lossDb(chains) <= limitDb + equalDb : judge.keeps(chains, limitDb);
        if (!keeps || !judge.doesNotRise(chains)) continue;
        const lossDb = judge.lossDb(chains);
        const isTie = best && attenuationDb < best.attenuationDb + equalDb;
        if (best && isTie && lossDb > best.lossDb + equalDb) continue;
        const bandDb = judge.guardBandDb(chains);
        if (best && isTie && lossDb > best.lossDb - equalDb && bandDb < best.guardBandDb + equalDb) continue;
        best = { filters: moving.map(({ filter }) => filter), attenuationDb, lossDb, guardBandDb: bandDb };
      }
    }
    return best;
  };

  const leastOf = (lineUps: readonly Choices[]): number | null => {
    let leastDb = Number.POSITIVE_INFINITY;
    for (const choices of lineUps) {
      for (const moving of choices()) {
        const chains = judge.chains(moving);
        const lossDb = judge.lossDb(chains);
        if (lossDb < leastDb && judge.doesNotRise(chains)) leastDb = lossDb;
      }
    }
    for (const limitDb of limitsFrom(askedDb)) {
      if (leastDb <= limitDb + equalDb) return limitDb > askedDb ? limitDb : null;
    }
    return null;
  };
  const isPossible = (choices: Choices): boolean => {
    for (const moving of choices()) if (judge.doesNotRise(judge.chains(moving))) return true;
    return false;
  };
  for (const { lineUps, mayLoseMore } of attemptsOf(problem, 1 + context.spareSlots)) {
    const limits = !mayLoseMore ? [askedDb] : lineUps.some(isPossible) ? limitsFrom(askedDb) : [];
    const kept = bestWithin(lineUps, askedDb, true);
    if (kept) return { best: kept, heldToDb: askedDb, leastDb: null };
    for (const limitDb of limits) {
      const best = bestWithin(lineUps, limitDb);
      if (best) return { best, heldToDb: limitDb, leastDb: leastOf(lineUps) };
    }
  }
  return null;
};

/** How many choices there are at most, to leave out cases that would take too long. */
export const choiceCount = (each: Case): number => {
  const { intents, context } = each;
  const pilot = intents.find(({ role }) => role === 'pilot-cut');
  const high = intents.find(({ role }) => role === 'high-cut');
  const { free, highOn, cutOn } = problemOf(each, high, pilot);
  const highs = free.map(
    (slot) => highOn(slot, 'lowpass', false).length + highOn(slot, 'highshelf', false).length,
  );
  const cuts = free.map((slot) => cutOn(slot).length).reduce((a, b) => a + b, 0);
  return (
    Math.max(
      1,
      highs.reduce((a, b) => a + b, 0),
    ) *
    Math.max(1, cuts) ** (1 + context.spareSlots)
  );
};
