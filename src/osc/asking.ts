import { type AddressPlace, fillAddress } from '../model/address-template.js';
import {
  type AskByAddress,
  type AskByArgument,
  askingTemplate,
  type Osc,
  type OscAddressed,
  type OscRead,
  type Target,
} from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { type OscArgument, type OscMessage, oscString } from './message.js';

/** Something a desk can be asked for. */
export interface AskedValue {
  readonly name: OscAddressed;
  /** The output it belongs to, and the slot. */
  readonly place: AddressPlace;
  /** The address it is written at; that of a name, which is only read. */
  readonly address: string;
}

/** What asks a desk for one value. */
export interface Question {
  readonly message: OscMessage;
  /** Where the answer comes, with the value as its one argument. No two values of a desk share it. */
  readonly answerAddress: string;
}

/** What tells one question from another: its address, and its arguments with their types. */
export const questionKey = ({ address, args }: OscMessage): string =>
  JSON.stringify([address, ...args.map((each) => [each.type, 'value' in each ? String(each.value) : null])]);

/** What a target calls a way of asking: the word that stands for it, or what it is asked by. */
export type AskingName = Extract<OscRead, string> | Extract<OscRead, object>['by'];

/** A way to ask a desk for its values: a plain object, the plug-in of this file. `Read` is what a target says of it. */
export interface Asking<Read extends OscRead = OscRead> {
  readonly name: AskingName;
  /** Left out where a desk answers nothing. The error is a sentence that says why there is no such question. */
  question?(value: AskedValue, read: Read): Result<Question, string>;
  /** How a value is asked for, in a clause for people. */
  tell(read: Read): string;
}

/** The address that the value is written at, without arguments. */
const sameAddress: Asking<'same-address-without-arguments'> = {
  name: 'same-address-without-arguments',
  question: ({ address }) => ok({ message: { address, args: [] }, answerAddress: address }),
  tell: () => 'a value is asked for at the address it is written at, without arguments',
};

/** An address of its own, without arguments. */
const byAddress: Asking<AskByAddress> = {
  name: 'address',
  question: ({ name, place, address }, read) => {
    const template = askingTemplate(read, name, address);
    if (template === null) return fail(`The target does not say at which address ${name} is asked for.`);
    const asked = fillAddress(template, place);
    if (!asked.ok) return asked;
    const answerAddress = read.answeredAt === 'asked-address' ? asked.value : address;
    return ok({ message: { address: asked.value, args: [] }, answerAddress });
  },
  tell: ({ address, addresses, answeredAt }) => {
    const general = address === undefined ? [] : [quote(address)];
    const at = [...general, ...(addresses ? ['an address of its own'] : [])].join(' or ');
    const where = answeredAt === 'asked-address' ? 'there' : 'at the address it is written at';
    return `a value is asked for at ${at}, and answered ${where}`;
  },
};

const argumentOf = ({ argument: { type, text = '' } }: AskByArgument): Result<OscArgument, string> =>
  type === 's' ? oscString(text) : ok({ type });

const words = { N: 'nil', I: 'an impulse' } as const;

/** The address that the value is written at, with an argument that is no value. */
const byArgument: Asking<AskByArgument> = {
  name: 'argument',
  question: ({ address }, read) => {
    const argument = argumentOf(read);
    return argument.ok
      ? ok({ message: { address, args: [argument.value] }, answerAddress: address })
      : argument;
  },
  tell: ({ argument: { type, text = '' } }) =>
    `a value is asked for at the address it is written at, with ${type === 's' ? quote(text) : words[type]}`,
};

/** No asking: the desk tells nothing. */
const none: Asking<'none'> = {
  name: 'none',
  tell: () => 'nothing can be asked for',
};

/** Every way a desk may be asked. */
export const askings: readonly Asking[] = [sameAddress, byAddress, byArgument, none];

const askingFor = (read: OscRead): Asking => {
  const name = typeof read === 'string' ? read : read.by;
  const found = askings.find((each) => each.name === name);
  if (!found) throw new RangeError(`no way of asking is called ${name}`);
  return found;
};

/**
 * What asks a desk for a value, as its target says; null where it cannot be asked. The error is a sentence that says
 * why there is no such question.
 */
export const questionFor = (
  { read }: Pick<Osc, 'read'>,
  value: AskedValue,
): Result<Question | null, string> => askingFor(read).question?.(value, read) ?? ok(null);

/** Whether a desk answers questions at all. */
export const canBeAsked = ({ osc }: Pick<Target, 'osc'>): boolean =>
  osc !== undefined && askingFor(osc.read).question !== undefined;

/** How a desk is asked, in a clause for people. */
export const askingWords = ({ read }: Pick<Osc, 'read'>): string => askingFor(read).tell(read);
