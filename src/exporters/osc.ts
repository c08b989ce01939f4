import { asFloat32, type OscArgument, type OscMessage } from '../osc/message.js';
import { recipeMessages } from '../osc/recipe-messages.js';
import { formatExact } from '../units/format.js';
import { printable } from '../units/quote.js';
import { ok } from '../units/result.js';
import type { Exporter } from './exporter.js';

/** The shortest decimal that gives the same 32-bit float. */
const float32Text = (value: number): string => {
  for (let digits = 1; digits < 9; digits++) {
    const shorter = Number(value.toPrecision(digits));
    if (asFloat32(shorter) === asFloat32(value)) return formatExact(shorter);
  }
  // IEEE 754: nine significant digits tell any two binary32 values apart.
  return formatExact(Number(value.toPrecision(9)));
};

const valueText = (argument: OscArgument): string | null => {
  switch (argument.type) {
    case 'i':
    case 'd':
      return formatExact(argument.value);
    case 'f':
      return float32Text(argument.value);
    case 'h':
    case 't':
      return String(argument.value);
    case 's':
      return printable(JSON.stringify(argument.value));
    case 'b':
      return `x${Array.from(argument.value, (byte) => byte.toString(16).padStart(2, '0')).join('')}`;
    default:
      return null;
  }
};

/**
 * A message as one line: address, a comma and the type tags, then the values that have any, blanks between.
 *
 *     /mix/3/filter/1/frequency ,f 19320
 *     /mix/3/filter/1/type ,s "Low cut"
 *
 * Numbers are decimal: `i` and `h` whole, `t` the 64 bits as one whole number, `f` the shortest decimal that
 * gives the same 32-bit float, `d` the shortest that gives the same double. Strings are JSON strings. Blobs
 * are an x and two hexadecimal digits a byte. T, F, N and I have no value.
 */
export const messageLine = ({ address, args }: OscMessage): string =>
  [
    address,
    `,${args.map(({ type }) => type).join('')}`,
    ...args.map(valueText).filter((value) => value !== null),
  ].join(' ');

/**
 * The messages that set the recipe, one a line, in the order to send them; `messageLine` says how to read
 * one. Nothing here is sent.
 */
export const osc: Exporter = {
  name: 'osc',
  summary: 'the OSC messages, one readable line each',
  fileName: 'recipe-osc.txt',
  mediaType: 'text/plain; charset=utf-8',
  content: (recipe, { target }) => {
    const messages = recipeMessages(recipe, target);
    if (!messages.ok) return messages;
    return ok(messages.value.map(({ message }) => `${messageLine(message)}\n`).join(''));
  },
};
