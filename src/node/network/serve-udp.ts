import { createSocket } from 'node:dgram';
import { isIPv6 } from 'node:net';
import { fail, ok, type Result } from '../../units/result.js';
import { makeEars } from './emitter.js';
import { mostUnsentBytes, type PacketListener, type Server } from './server.js';
import { networkWords, placeText } from './unreachable.js';

/** Listens for datagrams. The error is the system's. */
export const serveUdp = async (address: string, port: number): Promise<Result<Server, Error>> => {
  const socket = createSocket(isIPv6(address) ? 'udp6' : 'udp4');
  const refusal = await new Promise<Error | null>((resolve) => {
    socket.once('error', resolve);
    socket.bind({ port, address, exclusive: true }, () => {
      socket.off('error', resolve);
      resolve(null);
    });
  });
  if (refusal) {
    socket.close();
    return fail(refusal);
  }
  const packets = makeEars<Parameters<PacketListener>>();
  const faults = makeEars<string>();
  let closing: Promise<void> | null = null;
  const sentence = (to: string, error: Error): void => faults.tell(`${to}: ${networkWords(error)}.`);
  socket.on('error', (error) => sentence('Receiving failed', error));
  socket.on('message', (packet, from) => {
    const reply = (answer: Uint8Array): void => {
      if (closing || socket.getSendQueueSize() > mostUnsentBytes) return;
      socket.send(answer, from.port, from.address, (error) => {
        if (error) sentence(`An answer to ${placeText(from.address, from.port)} was dropped`, error);
      });
    };
    packets.tell([packet, reply]);
  });
  const bound = socket.address();
  return ok({
    port: bound.port,
    bind: bound.address,
    onPacket: (listener) => packets.listen((heard) => listener(...heard)),
    onFault: faults.listen,
    close: () => {
      closing ??= new Promise((resolve) => socket.close(() => resolve()));
      return closing;
    },
  });
};
