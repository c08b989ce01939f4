import type { MixPlan } from '../../live/plan/plan.js';
import { openSession } from '../../live/session/open-session.js';
import {
  type RetryPolicy,
  type Session,
  usualRatePerSecond,
  usualRetryPolicy,
} from '../../live/session/session.js';
import { type SurveyedMix, survey } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';
import { oscOf } from '../../osc/address.js';
import { canBeAsked } from '../../osc/asking.js';
import { makeOscCodec } from '../../osc/codec.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { connect } from '../network/connect.js';
import { parseDestination, resolveDestination } from '../network/destination.js';

/** What a conversation with a desk is about at the moment. */
export type DeskProgress =
  | { readonly stage: 'reading'; readonly destination: string }
  /** Nothing has come back yet, and is waited for so much longer. */
  | { readonly stage: 'waiting'; readonly destination: string; readonly leftMs: number }
  | { readonly stage: 'writing'; readonly mix: string; readonly index: number; readonly of: number }
  | { readonly stage: 'fitting'; readonly target: string }
  | { readonly stage: 'learning'; readonly grid: string; readonly slot: string }
  | { readonly stage: 'putting-back'; readonly output: number };

/** Where a desk is, how it is spoken to, and how that is broken off. */
export interface DeskOptions {
  /**
   * A name or an address, and a port unless the target names one: `192.0.2.7:9000`, `[2001:db8::7]:9000`. A restore goes
   * to where its journal came from where this is left out.
   */
  readonly to?: string;
  /** How OSC travels; the first the target lists where left out. */
  readonly transport?: OscTransport;
  /** Whether `to` may be a broadcast, multicast or unspecified address. */
  readonly allowBroadcast?: boolean;
  /** Messages a second at most. */
  readonly ratePerSecond?: number;
  readonly retry?: RetryPolicy;
  /** Given to come to a safe end: a mix under work is put back, and no other is begun. */
  readonly signal?: AbortSignal;
  /** Given to stop where it is; whatever was written is told. */
  readonly hardSignal?: AbortSignal;
  /** Told what is going on, and null once that is over. */
  readonly onProgress?: (progress: DeskProgress | null) => void;
}

/** Where a desk is, once its name has been looked up. */
interface DeskPlace {
  readonly kind: OscTransport;
  readonly host: string;
  readonly address: string;
  readonly port: number;
}

/** A conversation with a desk. */
export interface OpenDesk {
  readonly session: Session;
  /** Where it is, as a journal and a report tell it. */
  readonly at: Journal['desk'];
  readonly address: string;
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
}

export const never: AbortSignal = new AbortController().signal;

const usage = (path: keyof DeskOptions, message: string): Outcome<never> =>
  fail([problem('usage', path, message)]);

const interrupted: Problem = problem(
  'interrupted',
  '',
  'Interrupted before the desk was reached. Nothing was sent.',
);

/** Looks a name up, unless that is broken off. */
const lookUpUntil = (host: string, allowBroadcast: boolean, signal: AbortSignal): Promise<Outcome<string>> =>
  new Promise((resolve, reject) => {
    const giveUp = (): void => resolve(fail([interrupted]));
    signal.addEventListener('abort', giveUp, { once: true });
    if (signal.aborted) giveUp();
    resolveDestination(host, { allowBroadcast })
      .then(resolve, reject)
      .finally(() => signal.removeEventListener('abort', giveUp));
  });

/** What of rate and retries makes no sense; null where all does. The limits are those of the command line. */
const rateFault = ({ ratePerSecond = 1, retry = usualRetryPolicy }: DeskOptions): Outcome<never> | null => {
  const outside = (value: number, least: number, most: number): boolean => !(value >= least && value <= most);
  if (outside(ratePerSecond, 1, 1_000_000))
    return usage('ratePerSecond', `${ratePerSecond} is no rate: give 1 to 1000000 messages a second.`);
  if (outside(retry.timeoutMs, 1, 60_000))
    return usage('retry', `${retry.timeoutMs} is no timeoutMs: give 1 to 60000 ms.`);
  return !Number.isInteger(retry.retries) || outside(retry.retries, 0, 99)
    ? usage('retry', `${retry.retries} is no number of retries: give a whole number from 0 to 99.`)
    : null;
};

/** Settles where the desk is and how it is spoken to, and looks its name up. Nothing is sent to it. */
const findDesk = async (
  { target }: Desk,
  options: DeskOptions,
  from?: Journal['desk'],
): Promise<Outcome<DeskPlace>> => {
  const fault = rateFault(options);
  if (fault) return fault;
  const reached = oscOf(target);
  if (!reached.ok) return reached;
  const { id } = target;
  const osc = reached.value;
  const to = options.to ?? from?.host;
  if (to === undefined) return usage('to', 'Say where the desk is, as in 192.0.2.7:9000.');
  const kinds = osc.transports.map(({ kind }) => kind);
  const chosen = options.transport ?? (options.to === undefined ? from?.transport : undefined) ?? kinds[0];
  const transport = osc.transports.find(({ kind }) => kind === chosen);
  if (!transport) {
    const told = `The target ${quote(id)} speaks ${kinds.join(', ')}, not ${chosen}. Choose one of those, or add it to the target's transports.`;
    return usage('transport', told);
  }
  const parsed = parseDestination(to);
  if (!parsed.ok) return usage('to', parsed.error);
  const { host } = parsed.value;
  const port = parsed.value.port ?? (options.to === undefined ? from?.port : undefined) ?? transport.port;
  if (port === undefined) {
    return usage('to', `The target ${quote(id)} names no port: give it, as in ${to}:9000.`);
  }
  const found = await lookUpUntil(host, options.allowBroadcast === true, options.signal ?? never);
  return found.ok ? ok({ kind: transport.kind, host, address: found.value, port }) : found;
};

/**
 * Does some work in a conversation with a desk, which is closed afterwards whatever happens. `from` is the desk to go to
 * where the options name none. Problems: `usage`, `destination-refused`, `host-unknown`, `desk-unreachable`, `interrupted`.
 */
export const withDesk = async <Value>(
  desk: Desk,
  options: DeskOptions,
  work: (open: OpenDesk) => Promise<Outcome<Value>>,
  from?: Journal['desk'],
): Promise<Outcome<Value>> => {
  const place = await findDesk(desk, options, from);
  if (!place.ok) return place;
  const { kind, host, address, port } = place.value;
  const { retry = usualRetryPolicy, ratePerSecond = usualRatePerSecond, allowBroadcast = false } = options;
  const connected = await connect({
    kind,
    address,
    port,
    timeoutMs: Math.max(retry.timeoutMs * (retry.retries + 1), 1000),
    allowBroadcast,
    signal: options.signal ?? never,
  });
  if (!connected.ok) return options.signal?.aborted ? fail([interrupted]) : connected;
  const transport = connected.value;
  try {
    const codec = makeOscCodec();
    const { destination } = transport;
    const { onProgress = () => undefined } = options;
    const session = openSession({
      transport,
      codec,
      clock: systemClock,
      ratePerSecond,
      retry,
      onSilence: (leftMs) =>
        onProgress(
          leftMs === null ? { stage: 'reading', destination } : { stage: 'waiting', destination, leftMs },
        ),
    });
    return await work({ session, at: { transport: kind, host, port }, address, destination });
  } finally {
    await transport.close();
  }
};

/** What stands on a desk, and where it is; no mixes where it was interrupted. */
export interface DeskReading {
  readonly mixes: readonly SurveyedMix[] | null;
  readonly at: Journal['desk'];
  readonly destination: string;
}

/** Why a desk cannot be read at all; null where it can. */
export const unreadableFault = ({ target }: Desk): Outcome<never> | null => {
  if (canBeAsked(target)) return null;
  const told = `The target ${quote(target.id)} cannot be read. Compare its display with the printed recipe.`;
  return fail([problem('osc-unreadable', 'osc.read', told)]);
};

/** Reads what plans ask for from a desk, and writes nothing. Problems: as `withDesk`, `osc-unreadable`, `desk-silent`. */
export const readDesk = async (
  plans: readonly MixPlan[],
  desk: Desk,
  options: DeskOptions,
): Promise<Outcome<DeskReading>> => {
  const unreadable = unreadableFault(desk);
  if (unreadable) return unreadable;
  return withDesk(desk, options, async ({ session, at, destination }) => {
    options.onProgress?.({ stage: 'reading', destination });
    const mixes = await survey(plans, desk, session, options.signal ?? never);
    options.onProgress?.(null);
    const lost = session.lost();
    return mixes === null && lost ? fail([lost]) : ok({ mixes, at, destination });
  });
};
