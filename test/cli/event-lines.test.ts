import { describe, expect, it } from 'vitest';
import { eventJson, eventLines } from '../../src/cli/standin/event-lines.js';
import type { StandinEvent } from '../../src/standin/events.js';
import { shippedDesk } from '../standin/desk.js';

const line = eventLines((await shippedDesk('cut-section')).target);

const write = {
  event: 'write',
  by: 'sender',
  address: '/mix/3/filter/low/frequency',
  output: 3,
  outputs: [3, 4],
  slot: 'low',
  parameter: 'frequency',
  argument: { type: 'f', value: 0 },
  index: 0,
  of: 60,
  display: '20.00 Hz',
  moved: [],
} as const satisfies StandinEvent;

describe('an event in words', () => {
  it.each<[StandinEvent, string]>([
    [write, 'output  3  slot low   frequency  20.00 Hz'],
    [{ ...write, by: 'someone-else' }, 'output  3  slot low   frequency  20.00 Hz  (turned by someone else)'],
    [
      { ...write, parameter: 'type', display: 'bell', moved: [{ parameter: 'q', display: '0.300' }] },
      'output  3  slot low   type       bell  (q is now 0.300)',
    ],
    [{ event: 'read', address: '/a', answer: { type: 'f', value: Math.fround(0.1) } }, 'told /a: f 0.1'],
    [
      {
        event: 'refused',
        by: 'sender',
        address: '/a',
        args: [{ type: 's', value: '\u001b[2J' }, { type: 'T' }, { type: 'b', value: new Uint8Array(3) }],
        why: 'it is 3',
      },
      'refused /a s "\\u{1b}[2J", T, b of 3 bytes: it is 3',
    ],
    [
      {
        event: 'refused',
        by: 'sender',
        address: '/a',
        args: [{ type: 'h', value: -(2n ** 63n) }],
        why: 'so',
      },
      'refused /a h -9223372036854775808: so',
    ],
    [{ event: 'ignored', address: '/\u0007*', why: 'it rings' }, 'ignored "/\\u{7}*": it rings'],
    [{ event: 'malformed', why: 'It ends.' }, 'no OSC packet: It ends.'],
    [{ event: 'network', why: 'It has gone.' }, 'network: It has gone.'],
    [
      { event: 'fault', fault: 'delay', direction: 'out', address: '/a', effect: 'held-back' },
      'fault delay out: held back "/a"',
    ],
  ])('%#', (event, words) => {
    expect(line(event)).toBe(words);
  });
});

it('an event in JSON keeps what JSON has no word for', () => {
  const args = [
    { type: 'h', value: 2n ** 60n },
    { type: 'b', value: new Uint8Array([0, 255]) },
    { type: 'f', value: Number.NaN },
    { type: 'f', value: Number.NEGATIVE_INFINITY },
  ] as const;
  const event = { event: 'refused', by: 'sender', address: '/a', args, why: 'so' } as const;
  expect(JSON.parse(eventJson(event))).toMatchObject({
    args: [
      { type: 'h', value: '1152921504606846976' },
      { type: 'b', value: '00ff' },
      { type: 'f', value: 'NaN' },
      { type: 'f', value: '-Infinity' },
    ],
  });
});
