import { createSocket } from 'node:dgram';
import { connect } from 'node:net';
import { setTimeout } from 'node:timers/promises';
import { fromBuffer, type OscArgOutput, type OscMessageOutput, toBuffer } from 'osc-min';
import slip from 'slip';
import { onTestFinished } from 'vitest';
import type { OscTransport } from '../../src/model/target.js';

/*
 * A client that is none of ours: osc-min 2.1.2 for the packets, slip 1.0.2 for SLIP; a length prefix is four bytes,
 * big-endian (OpenSoundControl 1.0, "OSC Packets").
 */

/** How something is asked for: with which arguments, and where the answer comes. */
export interface Question {
  readonly args?: readonly OscArgOutput[];
  readonly answerAt?: string;
}

export interface OscClient {
  send(address: string, ...args: readonly OscArgOutput[]): void;
  sendBundle(messages: readonly OscMessageOutput[]): void;
  sendBytes(packet: Uint8Array): void;
  /** Everything that came back so far. */
  readonly heard: readonly OscMessageOutput[];
  /** Asks, and waits for the next message from there, or from where else the answer comes. */
  ask(address: string, how?: Question): Promise<readonly unknown[]>;
}

const bytesOf = (view: DataView): Uint8Array => new Uint8Array(view.buffer, view.byteOffset, view.byteLength);

/** Sends packets, and hands back what arrives. */
const openLine = async (
  kind: OscTransport,
  port: number,
  heard: (packet: Uint8Array) => void,
): Promise<(packet: Uint8Array) => void> => {
  if (kind === 'udp') {
    const socket = createSocket('udp4');
    socket.on('message', heard);
    onTestFinished(() => void socket.close());
    return (packet) => socket.send(packet, port, '127.0.0.1');
  }
  const socket = connect({ port, host: '127.0.0.1', noDelay: true });
  await new Promise<void>((resolve, reject) => {
    socket.once('connect', resolve);
    socket.once('error', reject);
  });
  socket.on('error', () => undefined);
  onTestFinished(() => void socket.destroy());
  if (kind === 'tcp-slip') {
    const decoder = new slip.Decoder({ onMessage: (packet) => heard(packet.slice()) });
    socket.on('data', (chunk) => decoder.decode(chunk));
    return (packet) => void socket.write(slip.encode(packet));
  }
  let rest = Buffer.alloc(0);
  socket.on('data', (chunk) => {
    rest = Buffer.concat([rest, chunk]);
    while (rest.length >= 4 && rest.length >= 4 + rest.readInt32BE(0)) {
      const end = 4 + rest.readInt32BE(0);
      heard(rest.subarray(4, end));
      rest = rest.subarray(end);
    }
  });
  return (packet) => {
    const size = Buffer.alloc(4);
    size.writeInt32BE(packet.length);
    socket.write(Buffer.concat([size, packet]));
  };
};

/** Opens a client, which is closed when the test has ended. */
export const oscClient = async (kind: OscTransport, port: number): Promise<OscClient> => {
  const heard: OscMessageOutput[] = [];
  const sendBytes = await openLine(kind, port, (packet) => {
    const message = fromBuffer(packet);
    if (message.oscType === 'message') heard.push(message);
  });
  const send: OscClient['send'] = (address, ...args) =>
    sendBytes(bytesOf(toBuffer({ address, args: [...args] })));
  return {
    send,
    sendBytes,
    sendBundle: (messages) =>
      sendBytes(
        bytesOf(
          toBuffer({ timetag: [0, 1], elements: messages.map(({ address, args }) => ({ address, args })) }),
        ),
      ),
    heard,
    ask: async (address, { args = [], answerAt = address } = {}) => {
      let seen = heard.length;
      send(address, ...args);
      for (let waited = 0; waited < 2000; waited += 2) {
        for (; seen < heard.length; seen++) {
          const message = heard[seen];
          if (message?.address === answerAt)
            return message.args.map((each) => ('value' in each ? each.value : null));
        }
        await setTimeout(2);
      }
      throw new Error(`nothing came back from ${answerAt}`);
    },
  };
};

/** Asks for what stands at an address of log-179, as that target says. */
export const askLog179 = (client: OscClient, address: string): Promise<readonly unknown[]> =>
  client.ask(`/ask${address}`, { answerAt: address });

export const int = (value: number): OscArgOutput => ({ type: 'integer', value });
export const float = (value: number): OscArgOutput => ({ type: 'float', value });
export const text = (value: string): OscArgOutput => ({ type: 'string', value });
