import { buildChain } from '../../filters/build.js';
import type { Realisation } from '../../filters/realisation.js';
import type { Section } from '../../filters/section.js';
import { guardTask } from '../../fitting/guard-task.js';
import { placedFilter } from '../../fitting/placement.js';
import { protect } from '../../fitting/protect/protect.js';
import { tellShortcoming } from '../../fitting/tell-shortcoming.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Band } from '../../model/recipe.js';
import { pilotAttenuationDb } from '../../multiplex/guard-figures.js';
import { type BeforeAfter, beforeAfter } from '../../multiplex/simulator/before-after.js';
import { builtInProgramme } from '../../multiplex/simulator/built-in-programme.js';
import type { ListenOptions } from '../../multiplex/simulator/listen.js';
import { usualLoopNoiseBandwidthHz } from '../../multiplex/simulator/loop-gains.js';
import { type Db, db, hz } from '../../units/quantity.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { didYouMean, listed } from '../../units/suggest.js';
import type { ProtectionOnDesk } from './protection-on-desk.js';

/** One way of building the filters chosen. */
interface Way {
  readonly realisation: Realisation;
  readonly chain: readonly Section[];
  readonly pilotAttenuationDb: Db;
}

/** What was rendered, and what was taken for it. */
export interface HeardOnDesk extends BeforeAfter, Omit<Way, 'chain'> {
  readonly bands: readonly Band[];
  readonly link: Required<ListenOptions>;
  /** What could not be set as asked. */
  readonly problems: readonly Problem[];
}

const secondsEach = 4.5;
const pauseSeconds = 1;
const seed = 1;
/** The rate a programme is made at where an analogue desk has none. */
const usualRateHz = hz(48000);
/** The middle one of the usual line-ups. */
const lineUpDbfs = db(-6);

/** The programme holds treble up to 20 kHz. */
const lowestRateHz = 40000;

const usage = (option: string, message: string): Outcome<never> => fail([problem('usage', option, message)]);

/** The way asked for, or the one that does least for the pilot. */
const wayFor = (id: string | undefined, ways: readonly Way[]): Outcome<Way> => {
  const least = Math.min(...ways.map((each) => each.pilotAttenuationDb));
  const found = ways.find(({ realisation, pilotAttenuationDb }) =>
    id === undefined ? pilotAttenuationDb === least : realisation.id === id,
  );
  const ids = ways.map(({ realisation }) => realisation.id);
  if (!found) {
    return usage(
      '--realisation',
      `This desk has no realisation ${quote(id)}${didYouMean(id ?? '', ids) || '.'} There are: ${listed(ids)}.`,
    );
  }
  const rateHz = found.realisation.sampleRateHz ?? usualRateHz;
  return rateHz > lowestRateHz
    ? ok(found)
    : usage(
        '--realisation',
        `Built as ${found.realisation.id} the desk runs at ${rateHz} Hz, too slow for a programme up to 20 kHz. Name one above ${lowestRateHz} Hz.`,
      );
};

/** Fits the protective filters and renders what a listener gets without them and with them. */
export const hearOnDesk = (
  { intents, context }: ProtectionOnDesk,
  realisationId: string | undefined,
): Outcome<HeardOnDesk> => {
  const { scope, desk } = context;
  const { pilotHz } = scope;
  const guard = guardTask(intents, desk.target.realisations, scope);
  const { bands, shortcomings } = protect.fit(intents, { ...context, guard });
  const filters = bands.map(({ type, set }) => placedFilter(type, set));
  const ways = desk.target.realisations.map((realisation) => {
    const chain = buildChain(filters, realisation);
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
  const programme = builtInProgramme(secondsEach, told.realisation.sampleRateHz ?? usualRateHz, seed);
  return ok({
    ...beforeAfter(programme, chain, pauseSeconds, link),
    ...told,
    bands,
    link,
    problems: shortcomings.map((each) => tellShortcoming(each, '', null)),
  });
};
