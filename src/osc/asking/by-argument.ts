import type { AskByArgument } from '../../model/target.js';
import { quote } from '../../units/quote.js';
import { ok, type Result } from '../../units/result.js';
import { type OscArgument, oscString } from '../message.js';
import type { Asking } from './asking.js';

const argumentOf = ({ argument: { type, text = '' } }: AskByArgument): Result<OscArgument, string> =>
  type === 's' ? oscString(text) : ok({ type });

const words = { N: 'nil', I: 'an impulse' } as const;

/** The address that the value is written at, with an argument that is no value. */
export const byArgument: Asking<AskByArgument> = {
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
