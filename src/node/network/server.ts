import type { OscTransport } from '../../model/target.js';

export interface ServeOptions {
  readonly kind: OscTransport;
  /** 0 for any that is free. */
  readonly port: number;
  /** The address of this computer, or a name of it, to listen at. */
  readonly bind: string;
}

/** Takes a packet and a way to answer whoever sent it. An answer to someone who has gone is dropped. */
export type PacketListener = (packet: Uint8Array, reply: (packet: Uint8Array) => void) => void;

/** A socket that others send OSC packets to. */
export interface Server {
  readonly port: number;
  readonly bind: string;
  /** Bytes that are no OSC come too: the listener decodes. */
  onPacket(listener: PacketListener): void;
  /** Who is told, in sentences, of what a sender did wrong and of what the network refused. */
  onFault(listener: (sentence: string) => void): void;
  /** Lets go of the socket and of everyone connected. Safe to call twice. */
  close(): Promise<void>;
}

/** What may wait for one listener who does not listen; whoever has more waiting is dropped. */
export const mostUnsentBytes = 2 ** 20;
