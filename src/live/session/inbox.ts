import { messagesIn, type OscCodec } from '../../osc/codec.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';

/** What came for an address: the one argument it tells its value by, or why it tells none. */
export type Answer = Result<OscArgument, string>;

export interface Inbox {
  /** Who is told of what comes for an address, until the next one is named or it is taken away. */
  expect(address: string, hear: (answer: Answer) => void): void;
  forget(address: string): void;
  /** Whether the packet tells something that was asked for at some time. */
  receive(packet: Uint8Array): boolean;
  /** The last packet that told nothing that was ever asked for, in words; null where there was none. */
  lastStrange(): string | null;
  counts(): { readonly heard: number; readonly strange: number };
}

const answerIn = ({ args }: OscMessage): Answer => {
  const [argument] = args;
  return argument && args.length === 1
    ? ok(argument)
    : fail(`it came with ${args.length} arguments, and one is expected`);
};

const inWords = ([first]: readonly OscMessage[], { length }: Uint8Array): string => {
  if (!first) return `${length} bytes that are no OSC`;
  const types = first.args.map(({ type }) => type).join('');
  return `${quote(first.address)} ${types === '' ? 'without arguments' : `with ${quote(types)}`}`;
};

/** Takes in whatever a network brings: what is no OSC, or was not asked for, is counted and changes nothing. */
export const makeInbox = (codec: OscCodec): Inbox => {
  const expected = new Map<string, (answer: Answer) => void>();
  const asked = new Set<string>();
  let lastStrange: string | null = null;
  let heard = 0;
  let strange = 0;
  return {
    expect: (address, hear) => {
      expected.set(address, hear);
      asked.add(address);
    },
    forget: (address) => {
      expected.delete(address);
    },
    receive: (packet) => {
      heard++;
      const decoded = codec.decode(packet);
      const messages = decoded.ok ? messagesIn(decoded.value) : [];
      const isAsked = messages.some(({ address }) => asked.has(address));
      if (!isAsked) {
        strange++;
        lastStrange = inWords(messages, packet);
      }
      for (const message of messages) expected.get(message.address)?.(answerIn(message));
      return isAsked;
    },
    lastStrange: () => lastStrange,
    counts: () => ({ heard, strange }),
  };
};
