import { createSocket, type RemoteInfo, type Socket } from 'node:dgram';
import { isIPv6 } from 'node:net';
import type { Transport, TransportFault } from '../../live/session/transport.js';
import type { Outcome } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { addressScopeFromHere } from './destination.js';
import { faultsKept, makeEmitter } from './emitter.js';
import { destinationText, networkWords, unreachable } from './unreachable.js';

/** Opens the socket towards one device, or, where many may answer, towards anyone; the error is the system's. */
const open = (socket: Socket, toOne: boolean, address: string, port: number): Promise<Error | null> =>
  new Promise((resolve) => {
    socket.once('error', resolve);
    const opened = (error?: Error): void => {
      socket.off('error', resolve);
      resolve(error ?? null);
    };
    // What is connected hears of refusals, and hears nobody else.
    if (toOne) socket.connect(port, address, opened);
    else socket.bind(0, () => opened());
  });

/** A way to a desk by datagrams, over IPv4 or IPv6. */
export const connectUdp = async (address: string, port: number): Promise<Outcome<Transport>> => {
  const destination = destinationText('udp', address, port);
  const toOne = addressScopeFromHere(address) === 'unicast';
  const socket = createSocket(isIPv6(address) ? 'udp6' : 'udp4');
  const error = await open(socket, toOne, address, port);
  if (error) {
    socket.close();
    return fail([unreachable(destination, networkWords(error))]);
  }
  if (!toOne) socket.setBroadcast(true);

  const packets = makeEmitter<Uint8Array>();
  const faults = makeEmitter<TransportFault>(faultsKept);
  const underWay = new Set<Promise<unknown>>();
  let closing: Promise<void> | null = null;
  const tellFault = (fault: NodeJS.ErrnoException): void =>
    faults.emit({
      problem: unreachable(destination, networkWords(fault)),
      ended: false,
      refused: fault.code === 'ECONNREFUSED',
    });
  socket.on('error', tellFault);
  socket.on('message', (packet: Buffer, from: RemoteInfo) => {
    if (toOne || from.port === port) packets.emit(packet);
  });

  const hand = (packet: Uint8Array): Promise<Error | null> =>
    new Promise((resolve) => {
      // Resolved in a later turn: a row of sends would otherwise let no answer in.
      const handed = (error: Error | null): void => void setImmediate(resolve, error);
      if (toOne) socket.send(packet, handed);
      else socket.send(packet, port, address, handed);
    });
  const handOver = async (packet: Uint8Array): Promise<Outcome<void>> => {
    let refusal = await hand(packet);
    if ((refusal as NodeJS.ErrnoException | null)?.code === 'ECONNREFUSED') {
      // It answers an earlier datagram, and was told instead of sending this one (Linux, udp(7) and socket errors).
      tellFault(refusal as Error);
      refusal = await hand(packet);
    }
    return refusal ? fail([unreachable(destination, networkWords(refusal))]) : ok(undefined);
  };
  return ok({
    kind: 'udp',
    destination,
    send: async (packet) => {
      if (closing) return fail([unreachable(destination, 'the socket has been closed here')]);
      const handing = handOver(packet);
      underWay.add(handing);
      const outcome = await handing;
      underWay.delete(handing);
      return outcome;
    },
    onPacket: packets.listen,
    onFault: faults.listen,
    close: () => {
      closing ??= Promise.all(underWay).then(() => new Promise((resolve) => socket.close(() => resolve())));
      return closing;
    },
  });
};
