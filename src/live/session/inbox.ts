import { messagesIn, type OscCodec } from '../../osc/codec.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import { fail, ok, type Result } from '../../units/result.js';

/** What came for an address: the one argument it tells its value by, or why it tells none. */
export type Answer = Result<OscArgument, string>;

export interface Inbox {
  /** Who is told of what comes for an address, until the next one is named or it is taken away. */
  expect(address: string, hear: (answer: Answer) => void): void;
  forget(address: string): void;
  receive(packet: Uint8Array): void;
  counts(): { readonly heard: number; readonly strange: number };
}

const answerIn = ({ args }: OscMessage): Answer => {
  const [argument] = args;
  return argument && args.length === 1
    ? ok(argument)
    : fail(`it came with ${args.length} arguments, and one is expected`);
};

/** Takes in whatever a network brings: what is no OSC, or was not asked for, is counted and changes nothing. */
export const makeInbox = (codec: OscCodec): Inbox => {
  const expected = new Map<string, (answer: Answer) => void>();
  let heard = 0;
  let strange = 0;
  return {
    expect: (address, hear) => {
      expected.set(address, hear);
    },
    forget: (address) => {
      expected.delete(address);
    },
    receive: (packet) => {
      heard++;
      const decoded = codec.decode(packet);
      const messages = decoded.ok ? messagesIn(decoded.value) : [];
      if (!messages.some(({ address }) => expected.has(address))) strange++;
      for (const message of messages) expected.get(message.address)?.(answerIn(message));
    },
    counts: () => ({ heard, strange }),
  };
};
