import { describe, expect, it } from 'vitest';
import type { OscRead } from '../../src/model/target.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';
import { makeStandin } from '../../src/standin/standin.js';
import { f, i, s, shippedDesk, standinOf } from './desk.js';

const gain = '/mix/3/filter/2/gain';
const nil: OscArgument = { type: 'N' };

/** How each of these is asked stands in the target's own file; a desk that was just switched on has every gain at 0 dB. */
const answered: readonly (readonly [
  target: string,
  asked: OscMessage,
  answer: OscMessage,
  address: string,
])[] = [
  ['cut-section', { address: gain, args: [] }, { address: gain, args: [f(0)] }, gain],
  ['log-179', { address: `/ask${gain}`, args: [] }, { address: gain, args: [f(0)] }, gain],
  [
    'log-179',
    { address: '/ask/mix/3/name', args: [] },
    { address: '/mix/3/name', args: [s('Out 3')] },
    '/mix/3/name',
  ],
  // -6 + 24 * 0.25 = 0 dB.
  ['two-legs', { address: `${gain}/now`, args: [] }, { address: `${gain}/now`, args: [i(24)] }, gain],
  [
    'rate-96',
    { address: '/report/3/2/gain', args: [] },
    { address: '/report/3/2/gain', args: [{ type: 'd', value: 0 }] },
    gain,
  ],
  [
    'rate-96',
    { address: '/report/3/name', args: [] },
    { address: '/report/3/name', args: [s('Out 3')] },
    '/mix/3/name',
  ],
  ['floats', { address: gain, args: [s('?')] }, { address: gain, args: [f(0)] }, gain],
  [
    'floats',
    { address: '/mix/3/name', args: [s('?')] },
    { address: '/mix/3/name', args: [s('Out 3')] },
    '/mix/3/name',
  ],
  // A text, where texts are set by texts too.
  [
    'floats',
    { address: '/mix/3/filter/2/type', args: [s('?')] },
    { address: '/mix/3/filter/2/type', args: [s('Bell')] },
    '/mix/3/filter/2/type',
  ],
  // -15 + 15 * 1 = 0 dB.
  ['octave-6', { address: gain, args: [nil] }, { address: gain, args: [i(15)] }, gain],
  ['lr-24', { address: gain, args: [s('?')] }, { address: gain, args: [f(0)] }, gain],
];

describe('a stand-in that is asked as its target says', () => {
  it.each(answered)('%s, by $address', async (target, asked, answer, address) => {
    const { standin, last } = standinOf(await shippedDesk(target));
    expect(standin.isQuestion(asked)).toBe(true);
    expect(standin.applyMessage(asked, 'sender')).toEqual(answer);
    expect(last()).toEqual({ event: 'read', address, answer: answer.args[0] });
    expect(standin.counts()).toMatchObject({ read: 1, write: 0, refused: 0, ignored: 0 });
  });
});

describe('a stand-in that is asked otherwise answers nothing, and nothing changes', () => {
  it.each<readonly [target: string, OscMessage, event: string, why: RegExp]>([
    ['cut-section', { address: gain, args: [s('?')] }, 'refused', /came as s, and f is expected/],
    ['cut-section', { address: gain, args: [nil] }, 'refused', /came as N, and f is expected/],
    ['cut-section', { address: `/ask${gain}`, args: [] }, 'ignored', /no such address/],
    ['log-179', { address: gain, args: [] }, 'ignored', /no value.*asked for at "\/ask\{address\}"/],
    ['log-179', { address: gain, args: [s('?')] }, 'refused', /came as s/],
    ['log-179', { address: `/ask${gain}`, args: [f(3)] }, 'ignored', /asked for there without arguments/],
    ['log-179', { address: `${gain}/now`, args: [] }, 'ignored', /no such address/],
    ['log-179', { address: '/mix/3/name', args: [] }, 'ignored', /no value/],
    ['rate-96', { address: '/report/3/9/gain', args: [] }, 'ignored', /no such address/],
    ['floats', { address: gain, args: [] }, 'ignored', /no value.*with "\?"/],
    ['floats', { address: gain, args: [s('??')] }, 'refused', /came as s, and f is expected/],
    ['floats', { address: gain, args: [s('?'), s('?')] }, 'refused', /2 arguments/],
    [
      'floats',
      { address: '/mix/3/filter/2/type', args: [s('??')] },
      'refused',
      /nothing that the desk shows/,
    ],
    ['octave-6', { address: gain, args: [{ type: 'I' }] }, 'refused', /came as I, and i is expected/],
    ['controller-128', { address: gain, args: [] }, 'ignored', /answers none/],
    ['controller-128', { address: gain, args: [s('?')] }, 'refused', /came as s/],
  ])('%s: %j', async (target, message, event, why) => {
    const { standin, last } = standinOf(await shippedDesk(target));
    const before = JSON.stringify(standin.snapshot());
    expect(standin.applyMessage(message, 'sender')).toBeNull();
    expect(last()).toMatchObject({ event, why: expect.stringMatching(why) });
    expect(JSON.stringify(standin.snapshot())).toBe(before);
  });
});

describe('a desk cannot be asked for two things by one question', () => {
  const asking = (read: OscRead) =>
    shippedDesk('log-179', ({ osc, ...target }) => ({ ...target, ...(osc && { osc: { ...osc, read } }) }));

  it.each<readonly [string, OscRead, RegExp]>([
    [
      'asked where another value is written',
      {
        by: 'address',
        address: '/ask{address}',
        // Of output 1 and slot 2 it is where output 2 and slot 1 are written.
        addresses: { gain: '/mix/{slot}/filter/{output}/gain' },
        answeredAt: 'asked-address',
      },
      /"\/mix\/2\/filter\/1\/gain".*stands for something else too/,
    ],
    [
      'two asked at one address',
      {
        by: 'address',
        address: '/ask{address}',
        addresses: { outputName: '/ask/mix/{output}/filter/1/gain' },
        answeredAt: 'written-address',
      },
      /"\/ask\/mix\/1\/filter\/1\/gain".*stands for something else too/,
    ],
  ])('%s', async (_, read, says) => {
    expect(makeStandin(await asking(read))).toMatchObject({
      ok: false,
      error: [{ code: 'osc-address-shared', path: 'osc.read', message: expect.stringMatching(says) }],
    });
  });

  it('nor for one that it has no address for', async () => {
    const desk = await asking({ by: 'address', addresses: {}, answeredAt: 'asked-address' });
    const made = makeStandin(desk);
    expect(made.ok ? [] : [...new Set(made.error.map(({ code, path }) => `${code} ${path}`))]).toEqual([
      'osc-address-unfit osc.read',
    ]);
  });
});
