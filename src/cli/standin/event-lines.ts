import type { Target } from '../../model/target.js';
import type { OscArgument } from '../../osc/message.js';
import type { FaultEvent, StandinEvent, WriteEvent } from '../../standin/events.js';
import { printable, quote } from '../../units/quote.js';

const argumentWords = (argument: OscArgument): string => {
  if (!('value' in argument)) return argument.type;
  const { type, value } = argument;
  if (value instanceof Uint8Array) return `${type} of ${value.length} bytes`;
  if (typeof value === 'string') return `${type} ${quote(value)}`;
  // Seven digits are what a 32-bit float is good for.
  return `${type} ${typeof value === 'number' ? Number(value.toPrecision(7)) : value}`;
};

const argumentsWords = (args: readonly OscArgument[]): string => args.map(argumentWords).join(', ');

const effectWords: Readonly<Record<FaultEvent['effect'], string>> = {
  dropped: 'dropped',
  'held-back': 'held back',
  changed: 'changed',
  'added-to': 'added to',
};

const longest = (texts: readonly string[]): number => Math.max(0, ...texts.map(({ length }) => length));

/** Makes lines of a stand-in's events, their columns as wide as this target needs. */
export const eventLines = ({ outputs, slots, osc }: Target): ((event: StandinEvent) => string) => {
  const outputWidth = String(outputs.count).length;
  const slotWidth = longest(slots.map(({ id }) => id));
  const parameterWidth = longest(Object.keys(osc?.encodings ?? {}));

  const writeLine = ({ by, output, slot, parameter, display, moved }: WriteEvent): string => {
    const asides = [
      ...moved.map((knob) => `${knob.parameter} is now ${knob.display}`),
      ...(by === 'someone-else' ? ['turned by someone else'] : []),
    ];
    const cells = [
      `output ${String(output).padStart(outputWidth)}`,
      `slot ${slot.padEnd(slotWidth)}`,
      parameter.padEnd(parameterWidth),
      display,
      ...(asides.length > 0 ? [`(${asides.join(', ')})`] : []),
    ];
    return printable(cells.join('  '));
  };
  return (event) => {
    switch (event.event) {
      case 'write':
        return writeLine(event);
      case 'read':
        return `told ${event.address}: ${argumentWords(event.answer)}`;
      case 'refused':
        return `refused ${printable(`${event.address} ${argumentsWords(event.args)}`.trim())}: ${printable(event.why)}`;
      case 'ignored':
        return `ignored ${quote(event.address)}: ${event.why}`;
      case 'malformed':
        return `no OSC packet: ${printable(event.why)}`;
      case 'network':
        return `network: ${printable(event.why)}`;
      case 'fault':
        return `fault ${event.fault} ${event.direction}: ${effectWords[event.effect]} ${quote(event.address)}`;
    }
  };
};

/** An event as a line of JSON; as text go 64-bit integers, numbers that are none, and blobs, in hexadecimal. */
export const eventJson = (event: StandinEvent): string =>
  JSON.stringify(event, (_, value: unknown) => {
    // JSON has neither, and would tell NaN as null, which means not known.
    if (typeof value === 'bigint') return value.toString();
    if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
    return value instanceof Uint8Array
      ? Array.from(value, (byte) => byte.toString(16).padStart(2, '0')).join('')
      : value;
  });
