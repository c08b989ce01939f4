import { connect, type Socket } from 'node:net';
import type { Transport, TransportFault } from '../../live/session/transport.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Framing } from '../../osc/framing/framing.js';
import { fail, ok } from '../../units/result.js';
import { faultsKept, makeEmitter } from './emitter.js';
import { destinationText, networkWords, unreachable } from './unreachable.js';

/** How long the other side may take to close too, once this side has. */
const farewellMs = 500;

const keepAliveAfterMs = 5000;

interface StreamOptions {
  readonly address: string;
  readonly port: number;
  /** How long a connection may take to stand, and how long it may take nothing of what is sent. */
  readonly timeoutMs: number;
  /** Breaks off while the connection does not stand yet. */
  readonly signal?: AbortSignal;
}

/** Connects; what came instead is half a sentence. */
const open = (options: StreamOptions): Promise<Socket | string> =>
  new Promise((resolve) => {
    const { address, port, timeoutMs, signal } = options;
    const socket = connect({
      host: address,
      port,
      noDelay: true,
      keepAlive: true,
      keepAliveInitialDelay: keepAliveAfterMs,
    });
    const settle = (came: string | null): void => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', interrupt);
      if (came !== null) socket.destroy();
      else socket.off('error', refuse);
      resolve(came ?? socket);
    };
    const interrupt = (): void => settle('it was interrupted');
    const refuse = (error: Error): void => settle(networkWords(error));
    const timer = setTimeout(() => settle(`it timed out after ${timeoutMs} ms`), timeoutMs);
    signal?.addEventListener('abort', interrupt);
    socket.on('error', refuse);
    socket.once('connect', () => settle(null));
  });

/** A way to a desk by a stream, over IPv4 or IPv6. */
export const connectTcp = async (options: StreamOptions, framing: Framing): Promise<Outcome<Transport>> => {
  const { address, port, timeoutMs } = options;
  const destination = destinationText(framing.transport, address, port);
  const opened = await open(options);
  if (typeof opened === 'string') return fail([unreachable(destination, opened)]);
  const socket = opened;

  const packets = makeEmitter<Uint8Array>();
  const faults = makeEmitter<TransportFault>(faultsKept);
  const splitter = framing.splitter();
  let ending: Problem | null = null;
  let closing: Promise<void> | null = null;
  const end = (came: string): void => {
    if (ending || closing) return;
    ending = unreachable(destination, came);
    socket.destroy();
    faults.emit({ problem: ending, ended: true });
  };
  socket.on('error', (error) => end(networkWords(error)));
  socket.on('end', () => end('the other side has closed the connection'));
  socket.on('close', () => end('the connection was closed'));
  socket.on('data', (chunk: Buffer) => {
    const split = splitter.push(chunk);
    for (const packet of split.packets) packets.emit(packet);
    for (const fault of split.faults) {
      const told = `What came from ${destination} could not be read. ${fault}`;
      faults.emit({ problem: problem('packet-unreadable', '', told), ended: false });
    }
    if (split.lost) end('what it sends cannot be told apart any more, and the connection was closed');
  });

  const closed = (): Problem => ending ?? unreachable(destination, 'the connection has been closed here');
  return ok({
    kind: framing.transport,
    destination,
    send: (packet) =>
      new Promise((resolve) => {
        if (ending || closing) {
          resolve(fail([closed()]));
          return;
        }
        // What is not taken now must not arrive later, when it has been told as not sent: the connection ends.
        const timer = setTimeout(() => end(`it took nothing for ${timeoutMs} ms`), timeoutMs);
        socket.write(framing.frame(packet), (error) => {
          clearTimeout(timer);
          // In a later turn: a row of sends would otherwise let no answer in.
          setImmediate(resolve, error ? fail([closed()]) : ok(undefined));
        });
      }),
    onPacket: packets.listen,
    onFault: faults.listen,
    close: () => {
      closing ??= new Promise((resolve) => {
        if (socket.destroyed) {
          resolve();
          return;
        }
        // Destroyed at once with answers unread, the connection would be reset, and the last messages lost with it.
        const timer = setTimeout(() => socket.destroy(), Math.min(farewellMs, timeoutMs));
        socket.once('close', () => {
          clearTimeout(timer);
          resolve();
        });
        socket.end();
      });
      return closing;
    },
  });
};
