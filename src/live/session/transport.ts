import type { Outcome, Problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';

/** Something that went wrong on the way to a desk. */
export interface TransportFault {
  readonly problem: Problem;
  /** Whether nothing can be sent any more: a closed connection. A refused datagram is no end. */
  readonly ended: boolean;
  /** Whether the other side said that nothing listens there. */
  readonly refused?: boolean;
}

/** A way to a desk: whole OSC packets out, whole OSC packets in. */
export interface Transport {
  readonly kind: OscTransport;
  /** Where it leads, for people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
  /** Hands one packet to the network; fulfilled once it is handed over. It never throws. */
  send(packet: Uint8Array): Promise<Outcome<void>>;
  /** Who is told of each packet that arrives. Bytes that are no OSC come too: the listener decodes. */
  onPacket(listener: (packet: Uint8Array) => void): void;
  onFault(listener: (fault: TransportFault) => void): void;
  /** Sends what is under way, then lets go of the socket. Safe to call twice. */
  close(): Promise<void>;
}
