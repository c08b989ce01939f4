import { createSocket } from 'node:dgram';
import { type AddressInfo, createServer, isIPv6, type Socket } from 'node:net';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';
import type { Framing } from '../../osc/framing/framing.js';
import { framingOf } from '../../osc/framing/registry.js';
import { fail, ok, type Result } from '../../units/result.js';
import { lookUp } from './destination.js';
import { type Emitter, makeEmitter } from './emitter.js';
import { networkWords, placeText } from './unreachable.js';

interface ServeOptions {
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
const mostUnsentBytes = 2 ** 20;

/** Listens for datagrams. The error is the system's. */
const serveUdp = async (address: string, port: number): Promise<Result<Server, Error>> => {
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
  const packets = makeEmitter<Parameters<PacketListener>>();
  const faults = makeEmitter<string>();
  let closing: Promise<void> | null = null;
  const sentence = (to: string, error: Error): void => faults.emit(`${to}: ${networkWords(error)}.`);
  socket.on('error', (error) => sentence('Receiving failed', error));
  socket.on('message', (packet, from) => {
    const reply = (answer: Uint8Array): void => {
      if (closing || socket.getSendQueueSize() > mostUnsentBytes) return;
      socket.send(answer, from.port, from.address, (error) => {
        if (error) sentence(`An answer to ${placeText(from.address, from.port)} was dropped`, error);
      });
    };
    packets.emit([packet, reply]);
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

/** More at once are turned away, so that what they may hold together stays bounded. */
const mostClients = 1000;

/** Takes in what one client sends; whatever it does, nobody else notices. */
const attend = (
  client: Socket,
  framing: Framing,
  packets: Emitter<Parameters<PacketListener>>,
  faults: Emitter<string>,
): void => {
  const from = placeText(client.remoteAddress ?? 'an address not known', client.remotePort ?? 0);
  const splitter = framing.splitter();
  const reply = (packet: Uint8Array): void => {
    if (!client.writable) return;
    client.write(framing.frame(packet));
    if (client.writableLength <= mostUnsentBytes) return;
    client.destroy();
    faults.emit(`${from} does not read what it is answered, and was cut off.`);
  };
  client.on('data', (chunk) => {
    const split = splitter.push(chunk);
    for (const packet of split.packets) packets.emit([packet, reply]);
    for (const fault of split.faults) faults.emit(`From ${from}: ${fault}`);
    if (split.lost) client.destroy();
  });
  client.on('error', (error) => faults.emit(`${from} has gone: ${networkWords(error)}.`));
};

/** Listens for connections. The error is the system's. */
const serveTcp = async (framing: Framing, address: string, port: number): Promise<Result<Server, Error>> => {
  const packets = makeEmitter<Parameters<PacketListener>>();
  const faults = makeEmitter<string>();
  const clients = new Set<Socket>();
  const server = createServer({ noDelay: true, keepAlive: true }, (client) => {
    clients.add(client);
    client.on('close', () => clients.delete(client));
    attend(client, framing, packets, faults);
  });
  server.maxConnections = mostClients;
  const refusal = await new Promise<Error | null>((resolve) => {
    server.once('error', resolve);
    server.listen({ host: address, port, exclusive: true }, () => {
      server.off('error', resolve);
      resolve(null);
    });
  });
  if (refusal) return fail(refusal);
  server.on('error', (error) => faults.emit(`A connection was not taken: ${networkWords(error)}.`));
  server.on('drop', () => faults.emit(`A connection was turned away: ${mostClients} stand already.`));
  const bound = server.address() as AddressInfo;
  let closing: Promise<void> | null = null;
  return ok({
    port: bound.port,
    bind: bound.address,
    onPacket: (listener) => packets.listen((heard) => listener(...heard)),
    onFault: faults.listen,
    close: () => {
      closing ??= new Promise((resolve) => {
        server.close(() => resolve());
        for (const client of clients) client.destroy();
      });
      return closing;
    },
  });
};

const remedies: Readonly<Record<string, string>> = {
  EADDRINUSE: 'another program has it. Close that, or give another port; 0 takes any that is free',
  EADDRNOTAVAIL: 'the address is none of this computer. Give one that is, such as 127.0.0.1',
  EACCES: 'this user may not have it. Give a port from 1024 up',
};

const unavailable = (place: string, why: string): Problem =>
  problem('port-unavailable', '', `Cannot listen at ${place}: ${why}.`);

/** Listens for OSC packets. Problems: `port-unavailable`, `host-unknown`. */
export const serve = async ({ kind, port, bind }: ServeOptions): Promise<Outcome<Server>> => {
  if (!Number.isInteger(port) || port < 0 || port > 65_535) {
    return fail([unavailable(`${bind}:${port}`, 'a port is a whole number from 0 to 65535')]);
  }
  const found = await lookUp(bind);
  if (!found.ok) return found;
  const served =
    kind === 'udp' ? await serveUdp(found.value, port) : await serveTcp(framingOf(kind), found.value, port);
  if (served.ok) return served;
  const { code = '' } = served.error as NodeJS.ErrnoException;
  return fail([unavailable(placeText(found.value, port), remedies[code] ?? networkWords(served.error))]);
};
