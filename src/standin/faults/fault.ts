import type { OscMessage } from '../../osc/message.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { Author } from '../events.js';

/** One message on its way to the desk, or an answer on its way back. */
export interface MessageDelivery {
  readonly direction: 'in' | 'out';
  readonly message: OscMessage;
  /** How long it is held back from here on. */
  readonly delayMs: number;
  readonly by: Author;
}

/** What a fault makes of a delivery: the same one, another one, several, or none. */
export type FaultAct = (delivery: MessageDelivery) => readonly MessageDelivery[];

/** What a fault may know of the desk, and the chance it is left to. */
export interface FaultContext {
  /** Numbers within [0, 1). */
  readonly random: () => number;
  readonly addresses: readonly string[];
  isQuestion(message: OscMessage): boolean;
  /** A message that turns the dial at an address elsewhere, once `first` is taken; null where nothing turns. */
  makeMeddleMessage(address: string, first?: OscMessage): OscMessage | null;
}

/** A fault a stand-in can be asked for: a plain object, the plug-in of this folder. */
export interface Fault {
  readonly name: string;
  /** A setting that works, for people to go by. */
  readonly example: string;
  /** One line for people: what it does. */
  readonly summary: string;
  /** Whether it is at work on messages on their way, or in the desk itself: what is lost on the way never reaches it. */
  readonly place: 'network' | 'desk';
  /** The error is the end of a sentence: what stood there, and what is allowed. */
  create(setting: string, context: FaultContext): Result<FaultAct, string>;
}

/** Reads `10%` as 0.1. */
const readShare = (setting: string): Result<number, string> => {
  const found = /^(\d{1,3}(?:\.\d{1,6})?)%$/.exec(setting);
  const perCent = Number(found?.[1] ?? Number.NaN);
  return perCent <= 100
    ? ok(perCent / 100)
    : fail(`${quote(setting)} is no share of the messages; 0% to 100% is allowed`);
};

/** Reads a whole number, 0 or above. */
export const readWhole = (setting: string, what: string): Result<number, string> =>
  /^\d{1,9}$/.test(setting)
    ? ok(Number(setting))
    : fail(`${quote(setting)} is no ${what}; a whole number is allowed`);

/** A fault at work on a share of deliveries, each on its own. */
export const onShare = (
  setting: string,
  { random }: FaultContext,
  act: (delivery: MessageDelivery) => readonly MessageDelivery[],
): Result<FaultAct, string> => {
  const share = readShare(setting);
  return share.ok ? ok((delivery) => (random() < share.value ? act(delivery) : [delivery])) : share;
};

/** A number between two, both included but for chance. */
export const between = (least: number, most: number, random: () => number): number =>
  least + (most - least) * random();
