import { createSocket } from 'node:dgram';
import { createServer, type Server as NetServer, type Socket } from 'node:net';
import type { Transport, TransportFault } from '../../../src/live/session/transport.js';
import type { Outcome } from '../../../src/model/problem.js';
import { oscTransports } from '../../../src/model/target.js';
import { connect } from '../../../src/node/network/connect.js';
import { serve } from '../../../src/node/network/serve.js';

export const kinds = oscTransports;
export const streams = ['tcp-slip', 'tcp-length-prefix'] as const;

export const valueIn = <Value>(outcome: Outcome<Value>): Value => {
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join(' '));
  return outcome.value;
};

/** What is not closed by the test itself is closed behind it. */
const open: { close(): unknown }[] = [];
export const closeLater = <Thing extends { close(): unknown }>(thing: Thing): Thing => {
  open.push(thing);
  return thing;
};
export const closeAll = async (): Promise<void> => {
  for (const thing of open.splice(0).reverse()) await thing.close();
};

export const serving = async (kind: (typeof kinds)[number], bind = '127.0.0.1') =>
  closeLater(valueIn(await serve({ kind, port: 0, bind })));

export const connected = async (kind: (typeof kinds)[number], port: number, address = '127.0.0.1') =>
  closeLater(valueIn(await connect({ kind, address, port, timeoutMs: 2000 })));

/** Fulfilled with the first so many things a listener is told of. */
export const first = <Item>(count: number, listen: (listener: (item: Item) => void) => void) =>
  new Promise<Item[]>((resolve) => {
    const items: Item[] = [];
    listen((item) => {
      items.push(item);
      if (items.length === count) resolve(items);
    });
  });

export const firstFault = async (transport: Transport): Promise<TransportFault> => {
  const [fault] = await first(1, transport.onFault);
  if (!fault) throw new Error('no fault');
  return fault;
};

/** Until something holds: looked at again and again, and up to the test's own time limit. */
export const until = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 5));
};

/** A TCP server of the test's own, and its connections as they come. */
export const plainServer = async (onClient: (client: Socket) => void): Promise<number> => {
  const server: NetServer = createServer({ allowHalfOpen: true }, (client) => {
    client.on('error', () => {}).on('end', () => client.end());
    closeLater({ close: () => client.destroy() });
    onClient(client);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  open.push({ close: () => server.close() });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
};

/** Below the ports that systems give out by themselves, so that no other test gets it meanwhile. */
export const anyPort = (): number => 20_000 + Math.floor(Math.random() * 12_000);

/** A port where nobody listens. */
export const deafPort = async (): Promise<number> => {
  const socket = createSocket('udp4');
  const port = anyPort();
  await new Promise<void>((resolve) => socket.bind(port, '127.0.0.1', resolve));
  await new Promise<void>((resolve) => socket.close(resolve));
  return port;
};
