import type { FoundArgument } from '../../model/journal.js';
import type { OscArgument } from '../../osc/message.js';

/** A journal's argument as it goes on the wire; null where it holds no such value. */
export const asOscArgument = ({ type, number, text }: FoundArgument): OscArgument | null => {
  if (type === 's') return text === undefined ? null : { type, value: text };
  if (type === 'h') return text === undefined ? null : { type, value: BigInt(text) };
  return number === undefined ? null : { type, value: number };
};

/** An argument as a journal keeps it; null for the types no target sends. */
export const asFoundArgument = (argument: OscArgument): FoundArgument | null => {
  switch (argument.type) {
    case 's':
      return { type: 's', text: argument.value };
    case 'h':
      return { type: 'h', text: String(argument.value) };
    case 'i':
    case 'f':
    case 'd':
      // -0 is 0: JSON has no other.
      return { type: argument.type, number: argument.value + 0 };
    default:
      return null;
  }
};
