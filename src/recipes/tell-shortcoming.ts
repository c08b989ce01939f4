import { buildChain } from '../filters/build.js';
import type { Filter } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import type { Shortcoming } from '../fitting/fit.js';
import { placedFilter } from '../fitting/placement.js';
import { leastShownDb } from '../fitting/response.js';
import { pilotAttenuationDb } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import { type Knob, knobs } from '../model/knob.js';
import { type Problem, problem } from '../model/problem.js';
import type { MissingFilter, PlacedFilter } from '../model/recipe.js';
import { filterPhrase, typeWords } from '../model/words.js';
import { type Db, db } from '../units/quantity.js';
import { quote } from '../units/quote.js';

/** The filters that shortcomings tell are not there. */
export const missingOf = (shortcomings: readonly Shortcoming[]): readonly MissingFilter[] =>
  shortcomings.flatMap(({ kind, intent }) =>
    kind === 'no-place' || kind === 'left-out'
      ? [{ role: intent.role, type: intent.type, asked: intent, why: kind }]
      : [],
  );

/** What a shortcoming costs at the pilot: the least and the most over the ways the desk may build filters. */
interface PilotCost {
  readonly leastDb: Db;
  readonly mostDb: Db;
}

const filtersOf = (filters: readonly PlacedFilter[]): readonly Filter[] =>
  filters.map(({ type, set }) => placedFilter(type, set));

/**
 * How much more attenuation the pilot would get, everything else left as it is, were the one intent built
 * just as asked. Negative where what was done instead takes more. Null where no realisation can build what
 * was asked, its frequency lying above half of every sample rate.
 */
export const pilotCost = (
  { intent, ...shortcoming }: Shortcoming,
  filters: readonly PlacedFilter[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): PilotCost | null => {
  const served = 'placed' in shortcoming ? shortcoming.placed : null;
  const others = filtersOf(filters.filter((placed) => placed !== served));
  const { role: _, ...asked } = intent;
  const costsDb = realisations
    .filter(({ sampleRateHz }) => sampleRateHz === null || asked.frequencyHz < sampleRateHz / 2)
    .map((realisation) => {
      const asIsDb = pilotAttenuationDb(buildChain(filtersOf(filters), realisation), scope);
      const asAskedDb = pilotAttenuationDb(buildChain([...others, asked], realisation), scope);
      return asAskedDb - asIsDb;
    });
  return costsDb.length === 0
    ? null
    : { leastDb: db(Math.min(...costsDb)), mostDb: db(Math.max(...costsDb)) };
};

const decibels = (value: number): string => `${value.toFixed(1)} dB`;

/** What it costs at the pilot, in words; a range where the ways of building differ. */
const costSentence = (cost: PilotCost | null): string => {
  if (cost === null) return '';
  const { leastDb, mostDb } = cost;
  if (mostDb < leastShownDb) {
    return leastDb > -leastShownDb ? ' It costs nothing at the pilot.' : ` The pilot loses nothing by it.`;
  }
  if (mostDb - leastDb < 2 * leastShownDb)
    return ` It costs ${decibels(mostDb)} of attenuation at the pilot.`;
  return leastDb < leastShownDb
    ? ` It costs up to ${decibels(mostDb)} of attenuation at the pilot, depending on how the desk builds its filters.`
    : ` It costs ${leastDb.toFixed(1)} to ${decibels(mostDb)} of attenuation at the pilot, depending on how the desk builds its filters.`;
};

const knobWords: Readonly<Record<Knob, string>> = {
  frequency: 'frequency',
  q: 'Q',
  bandwidth: 'bandwidth',
  gain: 'gain',
  slope: 'slope',
};

/** Puts a shortcoming into words: what was asked, what is there, what was done, what it costs, what to change. */
export const tellShortcoming = (shortcoming: Shortcoming, path: string, cost: PilotCost | null): Problem => {
  const { intent } = shortcoming;
  const asked = `Asked: ${filterPhrase(intent)}.`;
  const costs = costSentence(cost);
  if (shortcoming.kind === 'no-place') {
    const slots =
      shortcoming.slotsFree === 1
        ? 'The 1 free slot is taken by another filter, or cannot'
        : `Of the ${shortcoming.slotsFree} free slots none that is left can`;
    const reason =
      shortcoming.slotsFree === 0
        ? 'No slot is free.'
        : `${slots} make the ${typeWords[intent.type]}, or a substitute for it, within a third of an octave of that frequency and with a gain that does anything.`;
    const change = shortcoming.isMadeUpFor
      ? 'The others are set to come as near as they can to the curve with it in. Free another slot; or do it outside this desk, and fit without it.'
      : 'Free another slot, or do it outside this desk.';
    return problem('no-place', path, `${asked} ${reason} It is left out.${costs} ${change}`);
  }
  if (shortcoming.kind === 'left-out') {
    return problem(
      'left-out',
      path,
      `${asked} There is a place for it, but within the limit on music lost the pilot is guarded better without it. It is left out. To have it all the same, write it into the rig as an intent of role ${quote(intent.role)} and type ${quote(intent.type)}, without mayMove.`,
    );
  }
  const { placed } = shortcoming;
  const done = filterPhrase(placedFilter(placed.type, placed.set));
  if (shortcoming.kind === 'substitute') {
    return problem(
      'substitute',
      path,
      `${asked} No free slot that is left can make the ${typeWords[intent.type]}. Slot ${placed.slot} makes a ${done} as a substitute.${costs} Free a slot that can, or do it outside this desk.`,
    );
  }
  if (shortcoming.kind === 'other-shape') {
    const shape = intent.mayMove
      ? `cuts of ${placed.set.slopeDbPerOctave} dB/oct`
      : placed.set.slopeDbPerOctave === undefined
        ? 'single sections'
        : `${placed.set.family} cuts`;
    return problem(
      'other-shape',
      path,
      `${asked} Slot ${placed.slot} makes ${shape} only. It is set to ${done}.${costs} Use a slot that can, or ask for what this one makes.`,
    );
  }
  const reached = shortcoming.knobs.map((knob) => {
    const position = placed.steps[knob];
    const ends = position?.of === 1 ? 'is fixed at' : 'ends at';
    return `its ${knobWords[knob]} ${ends} ${shortcoming.ends?.[knob] ?? position?.display ?? placed.set[knobs[knob].value]}`;
  });
  return problem(
    'beyond-range',
    path,
    `${asked} Slot ${placed.slot} cannot be turned that far: ${reached.join(', ')}. It is set to ${done}.${costs} Use a slot with more range, or ask for less.`,
  );
};
