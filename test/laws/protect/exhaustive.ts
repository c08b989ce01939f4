import { buildChain, buildSections } from '../../../src/filters/build.js';
import type { Filter, FilterType } from '../../../src/filters/filter.js';
import { magnitudeDb, magnitudeSquared } from '../../../src/filters/response.js';
import type { Section } from '../../../src/filters/section.js';
import { nearest } from '../../../src/fitting/nearest/nearest.js';
import type { DeskSlot, DeskSlotType } from '../../../src/model/desk.js';
import type { Intent } from '../../../src/model/intent.js';
import type { PlacedFilter } from '../../../src/model/recipe.js';
import type { Case } from './cases.js';
import { densePoints, evenPoints, most, stretches } from './continuum.js';

/**
 * A plain search: every setting of every kind is worked out, then the best is picked by sorting. It shares with the fit
 * the filter maths, and `nearest` for what does not move; the figures are worked out here from their definitions.
 */

/** Rounding: figures nearer than this are the same. */
export const equalDb = 1e-9;

/** One setting of the filters that move and what it comes to, worst over realisations. */
export interface Setting {
  readonly filters: readonly Filter[];
  readonly attenuationDb: number;
  /** Beside what filters that stay take by themselves, where that is more than the usual limit. */
  readonly lossDb: number;
  readonly guardBandDb: () => number;
}

/** What a person is to be given, and what else he is to be shown. */
export interface Exhausted {
  readonly chosen: Setting;
  readonly gentler: Setting | null;
  readonly stronger: Setting | null;
}

const range = (count: number): readonly number[] => Array.from({ length: count }, (_, index) => index);

const valuesOf = (grid: { readonly count: number; valueAt(step: never): number }): readonly number[] =>
  range(grid.count).map((index) => grid.valueAt(index as never));

/** Every filter of a slot type that cuts, within a third of an octave of what is asked. */
const settingsOf = (
  { type, grids, family = 'butterworth' }: DeskSlotType,
  asked: Intent,
): readonly Filter[] => {
  const frequencies = valuesOf(grids.frequency).filter(
    (frequencyHz) => Math.abs(Math.log2(frequencyHz / asked.frequencyHz)) <= 1 / 3 + 1e-12,
  );
  const gains = grids.gain ? valuesOf(grids.gain).filter((gainDb) => gainDb <= -0.05) : [undefined];
  const qs = grids.q ? valuesOf(grids.q) : [undefined];
  // A shelf in place of a cut does not resonate, but for the step nearest to that.
  const apart = (q = 1) => Math.abs(Math.log(q * Math.SQRT2));
  const flattest = Math.min(...qs.map(apart));
  const usable =
    type === 'highshelf' && grids.q
      ? qs.filter((q = 1) => q <= Math.SQRT1_2 || q === qs.find((each) => apart(each) <= flattest))
      : qs;
  const widths = grids.bandwidth ? valuesOf(grids.bandwidth) : [undefined];
  const slopes = grids.slope ? valuesOf(grids.slope) : [undefined];
  return frequencies.flatMap((frequencyHz) =>
    gains.flatMap((gainDb) =>
      usable.flatMap((q) =>
        widths.flatMap((bandwidthOctaves) =>
          slopes.map(
            (slopeDbPerOctave) =>
              Object.fromEntries(
                Object.entries({
                  type,
                  frequencyHz,
                  gainDb,
                  q,
                  bandwidthOctaves,
                  slopeDbPerOctave,
                  family: grids.slope ? family : undefined,
                }).filter(([, value]) => value !== undefined),
              ) as unknown as Filter,
          ),
        ),
      ),
    ),
  );
};

const offers = (
  slot: DeskSlot,
  asked: Intent | undefined,
  types: readonly FilterType[],
): readonly Filter[] =>
  asked
    ? types.flatMap((type) => {
        const slotType = slot.types.get(type);
        return slotType ? settingsOf(slotType, asked) : [];
      })
    : [];

const moving = (intents: readonly Intent[], role: string) =>
  intents.find((intent) => intent.role === role && intent.mayMove);

/** What nearest puts in place and nothing moves. */
const staysIn = ({ intents, context }: Case): readonly PlacedFilter[] => {
  const moved = [moving(intents, 'high-cut'), moving(intents, 'pilot-cut')];
  return nearest.fit(intents, context).filters.filter(({ asked }) => !moved.includes(asked));
};

/** What moves, what stays, and on which slots. */
const problemOf = ({ intents, context }: Case, stays: readonly PlacedFilter[]) => {
  const [high, pilot] = [moving(intents, 'high-cut'), moving(intents, 'pilot-cut')];
  const asked = intents.find(({ role }) => role === 'pilot-cut');
  const free = context.slots.filter(({ id }) => !stays.some(({ slot }) => slot === id));
  return {
    fixed: stays.map(({ type, set }): Filter => ({ type, ...set })),
    highs: free.map((slot) => ({ slot, filters: offers(slot, high, ['lowpass', 'highshelf']) })),
    cuts: free.map((slot) => ({ slot, filters: offers(slot, asked, ['peaking', 'notch']) })),
    /** Cuts there may be: the one asked if it moves, and those that are spare. */
    cutCount: asked ? (pilot ? 1 : 0) + context.spareSlots : 0,
    wantsHigh: high !== undefined,
    asked,
  };
};

type Offer = { readonly slot: DeskSlot; readonly filters: readonly Filter[] };

/** Every way of taking up to so many slots of those left, each with one of its filters. */
const upTo = function* (slots: readonly Offer[], most: number): Generator<readonly Filter[]> {
  yield [];
  if (most === 0) return;
  for (const [index, { filters }] of slots.entries()) {
    for (const filter of filters) {
      for (const rest of upTo(slots.slice(index + 1), most - 1)) yield [filter, ...rest];
    }
  }
};

const levelsDb = (sections: readonly Section[], frequenciesHz: Float64Array): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(sections, frequenciesHz, out);
  return out;
};

/**
 * Pink noise after pre-emphasis from 15 kHz to 23 kHz or half the sample rate, by the trapezoidal rule: at 2 Hz, and at
 * 0.01 Hz for the last 20 Hz, since there wide bells that are built from the bilinear transform return to 0 dB.
 */
const guardBand = (sections: readonly Section[], rateHz: number | null, microseconds: number): number => {
  const toHz = rateHz === null ? 23000 : Math.min(23000, rateHz / 2);
  const steadyHz = toHz - 20;
  const count = Math.round((steadyHz - 15000) / 2);
  const hz = Float64Array.from([
    ...range(count + 1).map((i) => 15000 + ((steadyHz - 15000) * i) / count),
    ...range(2000).map((i) => steadyHz + (i + 1) / 100),
  ]);
  const power = new Float64Array(hz.length);
  magnitudeSquared(sections, hz, power);
  let [without, left] = [0, 0];
  hz.forEach((f, i) => {
    const widthHz = ((hz[i + 1] ?? f) - (hz[i - 1] ?? f)) / 2;
    const weight = (widthHz * (1 + (2 * Math.PI * f * microseconds * 1e-6) ** 2)) / f;
    without += weight;
    left += weight * (power[i] as number);
  });
  return 10 * Math.log10(without / left);
};

/** The figures of settings, from their definitions: over every frequency of a band. */
const judgeOf = ({ target: { realisations }, scope, context }: Case, fixed: readonly Filter[]) => {
  const { pilotHz, windowHz, keepLowHz, keepHighHz, riseAtMostDb, preEmphasisMicroseconds } = scope;
  const windowPoints = evenPoints(pilotHz - windowHz, pilotHz + windowHz, 17);
  const usualDb = context.guard?.lossLimits.usualDb ?? 0;
  const ways = realisations.map((realisation) => {
    const { sampleRateHz } = realisation;
    const chain = buildChain(fixed, realisation);
    const keepPoints = densePoints(keepLowHz, keepHighHz);
    const fixedLoss = (at: Float64Array) => levelsDb(chain, at).map((level) => -level);
    // Where filters that stay take more than the limit, what they take is set aside from 0.05 dB before that on.
    const isOver = most(fixedLoss, keepPoints, Number.NEGATIVE_INFINITY) > usualDb + equalDb;
    return {
      realisation,
      risePoints: densePoints(20, sampleRateHz === null ? 20000 : Math.min(20000, 0.499 * sampleRateHz)),
      chain,
      keeps: isOver
        ? stretches(fixedLoss, keepPoints, usualDb - 0.05)
        : [{ points: keepPoints, isAbove: false }],
      built: new Map<Filter, readonly Section[]>(),
    };
  });
  return (filters: readonly Filter[]): Setting | null => {
    let [attenuationDb, lossDb] = [200, -200];
    const chains = ways.map((way) => {
      const moving = filters.flatMap((filter) => {
        const made = way.built.get(filter) ?? buildSections(filter, way.realisation);
        way.built.set(filter, made);
        return made;
      });
      return { ...way, moving, sections: [...way.chain, ...moving] };
    });
    for (const { sections, moving, chain, keeps, risePoints } of chains) {
      const over = (at: Float64Array): Float64Array => {
        const alone = levelsDb(chain, at);
        return levelsDb(sections, at).map((db, i) => db - Math.max(riseAtMostDb, alone[i] as number));
      };
      if (most(over, risePoints, equalDb) > equalDb) return null;
      const level = (at: Float64Array) => levelsDb(sections, at);
      attenuationDb = Math.min(attenuationDb, -most(level, windowPoints, Number.NEGATIVE_INFINITY));
      for (const { points, isAbove } of keeps) {
        const loss = (at: Float64Array) => levelsDb(isAbove ? moving : sections, at).map((db) => -db);
        lossDb = most(loss, points, lossDb);
      }
    }
    const guardBandDb = () =>
      Math.min(
        ...chains.flatMap(({ sections, realisation }) =>
          preEmphasisMicroseconds.map((us) => guardBand(sections, realisation.sampleRateHz, us)),
        ),
      );
    return { filters, attenuationDb, lossDb, guardBandDb };
  };
};

type Figure = (setting: Setting) => number;

/** Those with the most of a figure, to rounding. */
const mostBy = (settings: readonly Setting[], figure: Figure): readonly Setting[] => {
  const best = Math.max(...settings.map(figure));
  return settings.filter((each) => figure(each) >= best - equalDb);
};

const attenuation: Figure = ({ attenuationDb }) => attenuationDb;
const mildness: Figure = ({ lossDb }) => -lossDb;

/** The best by one figure, of equals by a second, of equals by the guard band. */
const bestBy = (settings: readonly Setting[], first: Figure, second: Figure): Setting | null =>
  settings.length === 0
    ? null
    : (mostBy(mostBy(mostBy(settings, first), second), ({ guardBandDb }) => guardBandDb())[0] ?? null);

/** The stages, one after another, over settings of all kinds at once. */
const ladder = (all: readonly Setting[], each: Case): Exhausted | null => {
  const { usualDb, mostDb, isOnlyToReach } = each.context.guard?.lossLimits ?? { usualDb: 0, mostDb: 0 };
  const askedDb = each.scope.pilotAttenuationAtLeastDb;
  const within = (limitDb: number) => all.filter(({ lossDb }) => lossDb <= limitDb + equalDb);
  const usual = bestBy(within(usualDb), attenuation, mildness);
  if (!usual) return null;
  const reaches = (setting: Setting) => setting.attenuationDb >= askedDb - equalDb;
  const cheapest = isOnlyToReach ? bestBy(within(mostDb).filter(reaches), mildness, attenuation) : null;
  if (cheapest) return { chosen: cheapest, gentler: null, stronger: null };
  if (mostDb <= usualDb + equalDb) return { chosen: usual, gentler: null, stronger: null };
  const strongest = bestBy(within(mostDb), attenuation, mildness) as Setting;
  if (reaches(usual)) return { chosen: usual, gentler: null, stronger: strongest };
  const least = bestBy(within(mostDb).filter(reaches), mildness, attenuation);
  return { chosen: least ?? strongest, gentler: usual, stronger: null };
};

/**
 * What is to be chosen beside filters that stay; null where nothing at all holds. A second cut in the place of the high
 * cut is in question where no slot can make a high cut or, unless a limit is stated, where nothing with one reaches what
 * is asked.
 */
const exhaustBeside = (each: Case, stays: readonly PlacedFilter[]): Exhausted | null => {
  const { fixed, highs, cuts, cutCount, wantsHigh, asked } = problemOf(each, stays);
  const judge = judgeOf(each, fixed);
  const settings = (mostAlone: number): readonly Setting[] => {
    const made: Setting[] = [];
    const add = (filters: readonly Filter[]): void => {
      const setting = judge(filters);
      if (setting) made.push(setting);
    };
    for (const chosen of upTo(cuts, mostAlone)) add(chosen);
    for (const { slot, filters } of highs) {
      const others = cuts.filter((offer) => offer.slot !== slot);
      for (const high of filters) for (const chosen of upTo(others, cutCount)) add([high, ...chosen]);
    }
    return made;
  };
  const hasHigh = highs.some(({ filters }) => filters.length > 0);
  const atFirst = cutCount + (wantsHigh && asked && !hasHigh ? 1 : 0);
  const first = settings(atFirst);
  const found = ladder(first, each);
  const isHard = each.scope.isKeepLossStated;
  if (!found || isReached(found, each) || isHard || atFirst > cutCount || !asked || !wantsHigh) return found;
  const without = ladder(settings(cutCount + 1), each);
  return without && isWorthIt(without, found, each) ? without : found;
};

/** A filter is given up where what is asked is reached so, or for more attenuation. */
const isWorthIt = (other: Exhausted, best: Exhausted, each: Case): boolean =>
  isReached(other, each) || other.chosen.attenuationDb - best.chosen.attenuationDb > equalDb;

const isReached = ({ chosen }: Exhausted, { scope }: Case): boolean =>
  chosen.attenuationDb >= scope.pilotAttenuationAtLeastDb - equalDb;

/**
 * What the fit is to choose, by looking at everything; null where nothing at all holds. Where the pilot falls short, and
 * no limit is stated, the derived low cut may go to any other slot, or nowhere.
 */
export const exhaust = (each: Case): Exhausted | null => {
  const stays = staysIn(each);
  const first = exhaustBeside(each, stays);
  const low = stays.find(({ role, asked }) => role === 'low-cut' && asked.mayMove);
  if (!first || !low || each.scope.isKeepLossStated) return first;
  const others = stays.filter((placed) => placed !== low);
  const places = each.context.slots
    .filter(({ id }) => !others.some(({ slot }) => slot === id))
    .map((slot) => nearest.fit([low.asked], { ...each.context, slots: [slot] }).filters);
  return [...places.filter((filters) => filters.length > 0), []].reduce<Exhausted>((best, filters) => {
    if (isReached(best, each)) return best;
    const other = exhaustBeside(each, [...others, ...filters]);
    return other && isWorthIt(other, best, each) ? other : best;
  }, first);
};

/** How many settings there are at most, to leave out cases that would take too long. */
export const settingCount = (each: Case): number => {
  const { highs, cuts, cutCount } = problemOf(each, staysIn(each));
  const sum = (all: readonly Offer[]) => all.reduce((total, { filters }) => total + filters.length, 0);
  const [high, cut] = [sum(highs), sum(cuts)];
  return (1 + high) * (1 + cut) ** cutCount + (1 + cut) ** (cutCount + 1);
};
