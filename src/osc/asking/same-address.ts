import { ok } from '../../units/result.js';
import type { Asking } from './asking.js';

/** The address that the value is written at, without arguments. */
export const sameAddress: Asking<'same-address-without-arguments'> = {
  name: 'same-address-without-arguments',
  question: ({ address }) => ok({ message: { address, args: [] }, answerAddress: address }),
  tell: () => 'a value is asked for at the address it is written at, without arguments',
};
