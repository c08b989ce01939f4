import { type AddressInfo, createServer, type Socket } from 'node:net';
import type { Framing } from '../../osc/framing/framing.js';
import { fail, ok, type Result } from '../../units/result.js';
import { type Ears, makeEars } from './emitter.js';
import { mostUnsentBytes, type PacketListener, type Server } from './server.js';
import { networkWords, placeText } from './unreachable.js';

/** More at once are turned away, so that what they may hold together stays bounded. */
const mostClients = 1000;

/** Takes in what one client sends; whatever it does, nobody else notices. */
const attend = (
  client: Socket,
  framing: Framing,
  packets: Ears<Parameters<PacketListener>>,
  faults: Ears<string>,
): void => {
  const from = placeText(client.remoteAddress ?? 'an address not known', client.remotePort ?? 0);
  const splitter = framing.splitter();
  const reply = (packet: Uint8Array): void => {
    if (!client.writable) return;
    client.write(framing.frame(packet));
    if (client.writableLength <= mostUnsentBytes) return;
    client.destroy();
    faults.tell(`${from} does not read what it is answered, and was cut off.`);
  };
  client.on('data', (chunk) => {
    const split = splitter.push(chunk);
    for (const packet of split.packets) packets.tell([packet, reply]);
    for (const fault of split.faults) faults.tell(`From ${from}: ${fault}`);
    if (split.lost) client.destroy();
  });
  client.on('error', (error) => faults.tell(`${from} has gone: ${networkWords(error)}.`));
};

/** Listens for connections. The error is the system's. */
export const serveTcp = async (
  framing: Framing,
  address: string,
  port: number,
): Promise<Result<Server, Error>> => {
  const packets = makeEars<Parameters<PacketListener>>();
  const faults = makeEars<string>();
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
  server.on('error', (error) => faults.tell(`A connection was not taken: ${networkWords(error)}.`));
  server.on('drop', () => faults.tell(`A connection was turned away: ${mostClients} stand already.`));
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
