import { buildChain } from '../filters/build.js';
import type { Realisation } from '../filters/realisation.js';
import type { Section } from '../filters/section.js';
import { guardTask } from '../fitting/guard-task.js';
import { placedFilter } from '../fitting/placement.js';
import { protect } from '../fitting/protect/protect.js';
import { pilotAttenuationDb } from '../guard/guard-figures.js';
import { pilotDeviation } from '../guard/modulation.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { PlacedFilter } from '../model/recipe.js';
import { tellShortcoming } from '../recipes/tell-shortcoming.js';
import { builtInLevelDbfs, builtInProgramme } from '../simulator/built-in-programme.js';
import { type BeforeAfter, beforeAfter, type ListenOptions } from '../simulator/listen.js';
import { usualLoopNoiseBandwidthHz } from '../simulator/track-pilot.js';
import { type Db, db, hz } from '../units/quantity.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { didYouMean, listed } from '../units/suggest.js';
import type { ProtectionOnDesk } from './tradeoff.js';

/** One way of building the filters chosen. */
interface Way {
  readonly realisation: Realisation;
  readonly chain: readonly Section[];
  readonly pilotAttenuationDb: Db;
}

/** What was rendered, and what was taken for it. */
export interface HeardOnDesk extends BeforeAfter, Omit<Way, 'chain'> {
  readonly filters: readonly PlacedFilter[];
  /** The RMS of the programme's louder channel as it leaves the desk, before any filter. */
  readonly levelDbfs: Db;
  readonly link: Required<ListenOptions>;
  /** What could not be set as asked. */
  readonly problems: readonly Problem[];
}

/** How long each part lasts, in seconds, unless a wish says otherwise. */
const usualSeconds = 4.5;
const pauseSeconds = 1;
const seed = 1;
/** The rate a programme is made at where an analogue desk has none. */
const usualRateHz = hz(48000);
/** Of the usual line-ups the one at which the link carries the programme without a limiter. */
const usualLineUpDbfs = db(0);

/** The programme holds treble up to 20 kHz. */
const lowestRateHz = 40000;

/** The way asked for, or the one that does least for the pilot. */
const wayFor = (id: string | undefined, ways: readonly Way[]): Outcome<Way> => {
  const least = Math.min(...ways.map((each) => each.pilotAttenuationDb));
  const found = ways.find(({ realisation, pilotAttenuationDb }) =>
    id === undefined ? pilotAttenuationDb === least : realisation.id === id,
  );
  const ids = ways.map(({ realisation }) => realisation.id);
  if (!found) {
    return fail([
      problem(
        'realisation-unknown',
        'realisation',
        `This desk has no realisation ${quote(id)}${didYouMean(id ?? '', ids) || '.'} There are: ${listed(ids)}.`,
      ),
    ]);
  }
  const rateHz = found.realisation.sampleRateHz ?? usualRateHz;
  return rateHz > lowestRateHz
    ? ok(found)
    : fail([
        problem(
          'realisation-too-slow',
          'realisation',
          `Built as ${found.realisation.id} the desk runs at ${rateHz} Hz, too slow for a programme up to 20 kHz. Name one above ${lowestRateHz} Hz.`,
        ),
      ]);
};

const perCent = (deviation: number): string => `${Math.ceil(100 * deviation)} %`;

/** Where the programme asks for more than the link has; else null. Filters turn phases, so either part may peak higher. */
const overDeviation = (heard: BeforeAfter, lineUpDbfs: Db): Problem | null => {
  const [without, filtered] = [heard.without.peakDeviation, heard.with.peakDeviation];
  const peak = Math.max(without, filtered);
  if (peak <= 1) return null;
  const tooMuchDb = 20 * Math.log10((peak - pilotDeviation) / (1 - pilotDeviation));
  const leastDbfs = Math.ceil(10 * (lineUpDbfs + tooMuchDb)) / 10;
  return problem(
    'over-deviates',
    'lineUpDbfs',
    `Over-deviation: lined up at ${lineUpDbfs} dBFS the programme, ${builtInLevelDbfs} dBFS RMS, asks for ${perCent(peak)} of deviation ${without < peak ? 'with' : 'without'} the filters, and a link has 100 %. A transmitter's limiter would hold it; this model has none, and what it rendered would mean nothing. Name ${leastDbfs} dBFS or more.`,
  );
};

/** What is asked otherwise than usual. */
export interface HearWishes {
  readonly realisation?: string | undefined;
  readonly lineUpDbfs?: Db | undefined;
  /** How long each part lasts, in seconds. */
  readonly seconds?: number | undefined;
}

/**
 * Fits the protective filters and renders what a listener gets without them and with them, both at one level. Fails, at
 * `realisation` or `lineUpDbfs`, where the way of building named is not the desk's or too slow, or the link over-deviates.
 */
export const hearOnDesk = (
  { intents, context }: ProtectionOnDesk,
  { realisation: realisationId, lineUpDbfs = usualLineUpDbfs, seconds = usualSeconds }: HearWishes,
): Outcome<HeardOnDesk> => {
  const { scope, desk } = context;
  const { pilotHz } = scope;
  const guard = guardTask(intents, desk.target.realisations, scope);
  const { filters, shortcomings } = protect.fit(intents, { ...context, guard });
  const ways = desk.target.realisations.map((realisation) => {
    const chain = buildChain(
      filters.map(({ type, set }) => placedFilter(type, set)),
      realisation,
    );
    return { realisation, chain, pilotAttenuationDb: pilotAttenuationDb(chain, scope) };
  });
  const way = wayFor(realisationId, ways);
  if (!way.ok) return way;
  const { chain, ...told } = way.value;
  const link = {
    pilotHz,
    preEmphasisMicroseconds: Math.max(...scope.preEmphasisMicroseconds),
    lineUpDbfs,
    loopNoiseBandwidthHz: usualLoopNoiseBandwidthHz,
  };
  const programmeRateHz = told.realisation.sampleRateHz ?? usualRateHz;
  const programme = builtInProgramme(seconds, programmeRateHz, seed, pilotHz);
  const heard = beforeAfter(programme, chain, pauseSeconds, link);
  const tooMuch = overDeviation(heard, lineUpDbfs);
  if (tooMuch) return fail([tooMuch]);
  return ok({
    ...heard,
    ...told,
    filters,
    levelDbfs: builtInLevelDbfs,
    link,
    problems: shortcomings.map((each) => tellShortcoming(each, '', null)),
  });
};
