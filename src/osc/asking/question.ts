import type { OscAddressed } from '../../model/target.js';
import type { AddressPlace } from '../address.js';
import type { OscMessage } from '../message.js';

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
