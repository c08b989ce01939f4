import { isIP } from 'node:net';
import type { Transport } from '../../live/session/transport.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';
import { framingOf } from '../../osc/framing/registry.js';
import { quote } from '../../units/quote.js';
import { fail } from '../../units/result.js';
import { refuseMany } from './destination.js';
import { connectTcp } from './tcp.js';
import { connectUdp } from './udp.js';
import { destinationText, unreachable } from './unreachable.js';

export interface ConnectOptions {
  readonly kind: OscTransport;
  /** An IP address, as `resolveDestination` gives it. */
  readonly address: string;
  readonly port: number;
  /** How long a connection may take to stand, and how long it may take nothing of what is sent. */
  readonly timeoutMs: number;
  /** Whether addresses that are not one device's are taken. */
  readonly allowBroadcast?: boolean;
  /** Breaks off while the connection does not stand yet. */
  readonly signal?: AbortSignal;
}

/**
 * Opens a way to a desk. With UDP nothing is sent yet, so that a desk that is off is seen only when it is spoken to.
 * Problems: `desk-unreachable`, `destination-unreadable`, `destination-refused`.
 */
export const connect = async (options: ConnectOptions): Promise<Outcome<Transport>> => {
  const { kind, address, port, allowBroadcast = false, signal } = options;
  if (isIP(address) === 0 || !Number.isInteger(port) || port < 1 || port > 65_535) {
    const told = `${quote(address)} with port ${port} is no IP address with a port from 1 to 65535.`;
    return fail([problem('destination-unreadable', '', told)]);
  }
  const allowed = refuseMany(address, allowBroadcast);
  if (!allowed.ok) return allowed;
  if (signal?.aborted) {
    return fail([unreachable(destinationText(kind, address, port), 'it was interrupted')]);
  }
  return kind === 'udp' ? connectUdp(address, port) : connectTcp(options, framingOf(kind));
};
