import { createSocket } from 'node:dgram';
import type { AddressInfo } from 'node:net';

/*
 * A desk that shares nothing with the stand-in: OSC 1.0 packets put together and taken apart by hand, its state a map from
 * addresses to numbers. It is asked and told as the shipped target log-179 says.
 */

const padded = (text: string): Buffer => {
  const bytes = Buffer.from(`${text}\0`, 'latin1');
  return Buffer.concat([bytes, Buffer.alloc((4 - (bytes.length % 4)) % 4)]);
};

const textAt = (packet: Buffer, start: number): readonly [text: string, end: number] => {
  const end = packet.indexOf(0, start);
  return [packet.toString('latin1', start, end), start + Math.ceil((end - start + 1) / 4) * 4];
};

const fourBytes = (fill: (bytes: Buffer) => void): Buffer => {
  const bytes = Buffer.alloc(4);
  fill(bytes);
  return bytes;
};

type Value = number | string;

const isFloat = (address: string): boolean => /\/(frequency|q|gain)$/.test(address);

const packetOf = (address: string, value: Value): Buffer => {
  if (typeof value === 'string') return Buffer.concat([padded(address), padded(',s'), padded(value)]);
  return Buffer.concat([
    padded(address),
    padded(isFloat(address) ? ',f' : ',i'),
    fourBytes((bytes) => (isFloat(address) ? bytes.writeFloatBE(value) : bytes.writeInt32BE(value))),
  ]);
};

/** What is peculiar about a desk; a plain one has nothing of it. */
export interface Peculiar {
  /** How late it takes and answers everything, in order. */
  readonly lateMs?: number;
  /** How much later than it is sent it takes a number; what it is asked it answers at once. */
  readonly takesLateMs?: number;
  /** What it makes of a number it is sent. */
  readonly snap?: (address: string, value: number) => number;
  /** What else changes with a write. */
  readonly also?: (
    address: string,
    value: number,
    state: ReadonlyMap<string, Value>,
  ) => readonly [string, Value][];
  /** After so many writes its outputs go by other names. */
  readonly renamedAfter?: number;
  /** After so many writes it starts anew: silent for a while, then everything as when it was switched on. */
  readonly rebootsAfter?: number;
  /** After so many writes its port refuses. */
  readonly refusesAfter?: number;
}

export interface OtherDesk {
  readonly port: number;
  readonly state: ReadonlyMap<string, Value>;
  /** Addresses written to, in order. */
  readonly writes: readonly string[];
  close(): void;
}

const rebootMs = 1500;

export const startOtherDesk = async (
  start: ReadonlyMap<string, Value>,
  { lateMs = 0, takesLateMs = 0, snap, also, renamedAfter, rebootsAfter, refusesAfter }: Peculiar,
): Promise<OtherDesk> => {
  const state = new Map(start);
  const writes: string[] = [];
  const socket = createSocket('udp4');
  let isUp = true;
  let isOpen = true;
  const close = (): void => {
    if (isOpen) socket.close();
    isOpen = false;
  };
  const written = (address: string, value: number): void => {
    writes.push(address);
    state.set(address, snap ? snap(address, value) : value);
    for (const [other, change] of also?.(address, value, state) ?? []) state.set(other, change);
    if (writes.length === renamedAfter) {
      for (const each of state.keys()) if (each.endsWith('/name')) state.set(each, `Was ${each}`);
    }
    if (writes.length === refusesAfter) close();
    if (writes.length === rebootsAfter) {
      isUp = false;
      setTimeout(() => {
        for (const [each, was] of start) state.set(each, was);
        isUp = true;
      }, rebootMs);
    }
  };
  socket.on('message', (packet, from) => {
    setTimeout(() => {
      if (!isUp || !isOpen) return;
      const [address, tagsAt] = textAt(packet, 0);
      const [tags, at] = textAt(packet, tagsAt);
      const stands = state.get(address.replace(/^\/ask/, ''));
      if (address.startsWith('/ask/')) {
        if (stands !== undefined) socket.send(packetOf(address.slice(4), stands), from.port, from.address);
      } else if (stands !== undefined && typeof stands === 'number') {
        const value = tags === ',f' ? packet.readFloatBE(at) : packet.readInt32BE(at);
        if (takesLateMs === 0) written(address, value);
        else setTimeout(() => written(address, value), takesLateMs);
      }
    }, lateMs);
  });
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  return { port: (socket.address() as AddressInfo).port, state, writes, close };
};
