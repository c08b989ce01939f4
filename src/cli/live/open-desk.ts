import type { Clock } from '../../live/session/clock.js';
import { openLine } from '../../live/session/open-session.js';
import type { Line } from '../../live/session/session.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';
import { systemClock } from '../../node/network/clock.js';
import { connect } from '../../node/network/connect.js';
import { parseDestination, resolveDestination } from '../../node/network/destination.js';
import { makeOscCodec } from '../../osc/codec.js';
import { oscOf } from '../../osc/osc-of.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import type { DeskOptions } from './desk-options.js';

/** Where a desk is, once its name has been looked up. */
export interface DeskPlace {
  readonly kind: OscTransport;
  readonly host: string;
  readonly address: string;
  readonly port: number;
}

export interface OpenDesk {
  readonly line: Line;
  readonly clock: Clock;
  readonly place: DeskPlace;
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
  close(): Promise<void>;
}

const usage = (path: string, message: string): Outcome<never> => fail([problem('usage', path, message)]);

/** Settles where the desk is and how it is spoken to, and looks its name up. Nothing is sent to it. */
export const findDesk = async (
  { target }: Desk,
  options: DeskOptions,
  from?: Journal['desk'],
): Promise<Outcome<DeskPlace>> => {
  const reached = oscOf(target);
  if (!reached.ok) return reached;
  const { id } = target;
  const osc = reached.value;
  const to = options.to ?? from?.host;
  if (to === undefined) return usage('--to', 'Say where the desk is, as in --to 192.0.2.7:9000.');
  const kinds = osc.transports.map(({ kind }) => kind);
  const chosen = options.transport ?? (options.to === undefined ? from?.transport : undefined) ?? kinds[0];
  const transport = osc.transports.find(({ kind }) => kind === chosen);
  if (!transport) {
    return usage(
      '--transport',
      `The target ${quote(id)} speaks ${kinds.join(', ')}, not ${chosen}. Choose one of those, or add it to the target's transports.`,
    );
  }
  const parsed = parseDestination(to);
  if (!parsed.ok) return usage('--to', parsed.error);
  const port = parsed.value.port ?? (options.to === undefined ? from?.port : undefined) ?? transport.port;
  if (port === undefined) {
    return usage('--to', `The target ${quote(id)} names no port: give it, as in --to ${to}:9000.`);
  }
  const found = await resolveDestination(parsed.value.host, {
    allowBroadcast: options.allowBroadcast === true,
  });
  if (!found.ok) return found;
  return ok({ kind: transport.kind, host: parsed.value.host, address: found.value, port });
};

/** Opens the conversation with a desk. */
export const openDesk = async (
  place: DeskPlace,
  { rate, timeout, tries, allowBroadcast }: DeskOptions,
  signal: AbortSignal,
): Promise<Outcome<OpenDesk>> => {
  const { kind, address, port } = place;
  const transport = await connect({
    kind,
    address,
    port,
    timeoutMs: Math.max(timeout * tries, 1000),
    allowBroadcast: allowBroadcast === true,
    signal,
  });
  if (!transport.ok) return transport;
  const codec = makeOscCodec();
  const line = openLine({
    transport: transport.value,
    codec,
    clock: systemClock,
    ratePerSecond: rate,
    patience: { timeoutMs: timeout, tries },
  });
  const { destination, close } = transport.value;
  return ok({ line, clock: systemClock, place, destination, close });
};

/** Does some work in a conversation with a desk, which is closed afterwards whatever happens. */
export const withOpenDesk = async <Result>(
  open: OpenDesk,
  work: (open: OpenDesk) => Promise<Result>,
): Promise<Result> => {
  try {
    return await work(open);
  } finally {
    await open.close();
  }
};
