import { describe, expect, it } from 'vitest';
import type { Target } from '../../src/model/target.js';
import type { OscArgument } from '../../src/osc/message.js';
import type { StandinSetup } from '../../src/standin/standin.js';
import { f, i, s, shippedDesk, standinOf } from './desk.js';

/** What is sent, what the desk shows then, and what it answers when asked. */
type Row = readonly [
  source: string,
  target: string,
  address: string,
  sent: OscArgument,
  display: string,
  answer: OscArgument | null,
];

/** A point of the frequency knob of log-179: 179 points from 26 Hz to 21.7 kHz, each the same ratio above the last. */
const logHz = (point: number): number => 26 * (21_700 / 26) ** (point / 178);

const rows: readonly Row[] = [
  // Between 18655.6 and 19374.1 Hz the two are as near at their geometric mean, 19011.4 Hz.
  [
    '26 * (21700/26)^(175/178)',
    'log-179',
    '/mix/3/filter/2/frequency',
    f(19_012),
    '19.37 kHz',
    f(logHz(175)),
  ],
  [
    '26 * (21700/26)^(174/178)',
    'log-179',
    '/mix/3/filter/2/frequency',
    f(19_011),
    '18.66 kHz',
    f(logHz(174)),
  ],
  ['the top stop', 'log-179', '/mix/18/filter/4/q', f(99), '10.6', f(10.6)],
  ['-16.5 + 23 * 0.75', 'log-179', '/mix/1/filter/1/gain', f(0.4), '+0.75 dB', f(0.75)],
  ['the fourth in the order', 'log-179', '/mix/1/filter/1/type', i(3), 'high shelf', i(3)],
  ['a switch', 'log-179', '/mix/1/filter/1/on', i(1), 'on', i(1)],
  ['ISO 3, R40: 1.9', 'r40', '/mix/24/filter/3/frequency', s('19.0 kHz'), '19.0 kHz', s('19.0 kHz')],
  ['ISO 3, R40: 3.75', 'r40', '/mix/24/filter/3/frequency', s('37.5 Hz'), '37.5 Hz', s('37.5 Hz')],
  ['a multiple of 0.5', 'r40', '/mix/1/filter/5/gain', s('-4.5 dB'), '-4.5 dB', s('-4.5 dB')],
  ['its own label', 'r40', '/mix/1/filter/2/type', s('Notch'), 'Notch', s('Notch')],
  ['any float', 'floats', '/mix/64/filter/8/frequency', f(19_234.5), '19.23 kHz', f(19_234.5)],
  ['the upper end', 'floats', '/mix/64/filter/8/gain', f(99), '+18.0 dB', f(18)],
  ['the lower end', 'floats', '/mix/64/filter/8/frequency', f(5), '20.00 Hz', f(20)],
  ['its own label', 'floats', '/mix/1/filter/1/type', s('High cut'), 'High cut', s('High cut')],
  ['nearer to 24 than to 12', 'floats', '/mix/1/filter/1/slope', f(18.1), '24 dB/oct', f(24)],
  // IEC 61260-1, equation 3: 1000 * 10^(0.3 * 51/12) = 18836 Hz is the last below 20 kHz, 10^(-0.3 * 67/12) the first.
  ['IEC 61260-1, x = 25', 'octave-6', '/mix/2/filter/5/frequency', i(59), '18.8 kHz', i(59)],
  ['IEC 61260-1, x = -34', 'octave-6', '/mix/2/filter/5/frequency', i(0), '21.1 Hz', i(0)],
  ['ISO 3, R10: 0.5, 0.63, 0.8', 'octave-6', '/mix/2/filter/5/q', i(2), '0.800', i(2)],
  // 20 * 10^(3 * 298/300) = 19099.9 Hz.
  ['20 * 1000^(298/300)', 'two-legs', '/mix/3/filter/2/frequency', i(298), '19.10 kHz', i(298)],
  ['-6 + 24 * 0.25', 'two-legs', '/mix/16/filter/6/gain', i(24), '0.00 dB', i(24)],
  ['-16 + 64 * 0.25', 'controller-128', '/mix/8/filter/4/gain', f(64 / 127), '0.00 dB', null],
  ['the bottom stop', 'controller-128', '/mix/8/filter/4/bandwidth', i(0), '0.100 oct', null],
  ['the top of its own range', 'cut-section', '/mix/32/filter/low/frequency', f(1), '600.0 Hz', f(1)],
  ['the bottom of its own range', 'cut-section', '/mix/32/filter/high/frequency', f(0), '1.000 kHz', f(0)],
  ['the third of 12, 18, 24', 'cut-section', '/mix/32/filter/high/slope', i(2), '24 dB/oct', i(2)],
  ['nearer to -14.5 than to -15', 'cut-section', '/mix/9/filter/2/gain', f(-14.7), '-14.5 dB', f(-14.5)],
  // IEC 61260-1, equation 3: 1000 * 10^(-0.3 * 543/96) = 20.097 Hz.
  ['IEC 61260-1, x = -272', 'lr-24', '/mix/1/filter/low/frequency', i(0), '20.10 Hz', i(0)],
  ['the type it always is', 'lr-24', '/mix/1/filter/low/type', i(3), 'low cut', i(3)],
  ['-15 + 21 * 0.5', 'lr-24', '/mix/1/filter/4/gain', f(-4.4), '-4.5 dB', f(-4.5)],
];

describe('what is sent goes to a step of the desk, and is read back there', () => {
  it.each(rows)('%s: %s %s', async (_, target, address, sent, display, answer) => {
    const { send, ask, last } = standinOf(await shippedDesk(target));
    expect(send(address, sent)).toBeNull();
    expect(last()).toMatchObject({ event: 'write', by: 'sender', address, argument: sent, display });
    expect(answer === null ? send(address) : ask(address)).toEqual(answer);
  });
});

describe('what is refused changes nothing', () => {
  it.each<[string, string, string, readonly OscArgument[], RegExp]>([
    ['a step too many', 'octave-6', '/mix/1/filter/1/frequency', [i(60)], /60 is none of the 60 steps/],
    ['a step below', 'octave-6', '/mix/1/filter/1/frequency', [i(-1)], /-1 is none/],
    ['another type', 'octave-6', '/mix/1/filter/1/frequency', [f(3)], /came as f, and i is expected/],
    ['two arguments', 'octave-6', '/mix/1/filter/1/frequency', [i(3), i(3)], /2 arguments/],
    ['no number', 'floats', '/mix/1/filter/1/gain', [f(Number.NaN)], /no number/],
    ['nothing to measure by ratio', 'floats', '/mix/1/filter/1/frequency', [f(-5)], /not above 0/],
    ['half-way off the scale', 'cut-section', '/mix/1/filter/1/frequency', [f(1.5)], /no fraction/],
    ['a text nobody shows', 'r40', '/mix/1/filter/1/frequency', [s('19.32 kHz')], /nothing that the desk/],
    ['a type of other slots', 'r40', '/mix/1/filter/1/type', [s('Notch')], /nothing that the desk/],
    ['a type that is counted and not had', 'octave-6', '/mix/1/filter/2/type', [i(4)], /be a high cut/],
    ['a third position', 'octave-6', '/mix/1/filter/2/on', [i(2)], /none of the 2 steps/],
    ['a name', 'log-179', '/mix/1/name', [s('Vox')], /reading only/],
  ])('%s', async (_, target, address, args, why) => {
    const { standin, send, last } = standinOf(await shippedDesk(target));
    const before = standin.snapshot();
    expect(send(address, ...args)).toBeNull();
    expect(last()).toMatchObject({ event: 'refused', address, args, why: expect.stringMatching(why) });
    expect(standin.snapshot()).toEqual(before);
    expect(standin.counts()).toMatchObject({ refused: 1, write: 0 });
  });

  it.each([
    ['a pattern', 'log-179', '/mix/*/filter/1/on', /pattern/],
    ['an output beyond', 'log-179', '/mix/19/filter/1/on', /no such address/],
    ['a knob the section lacks', 'cut-section', '/mix/1/filter/low/gain', /no such address/],
    ['a type nobody chooses', 'cut-section', '/mix/1/filter/1/type', /no such address/],
  ])('and nothing is said to %s', async (_, target, address, why) => {
    const { standin, send, last } = standinOf(await shippedDesk(target));
    const before = standin.snapshot();
    expect([send(address), send(address, i(1))]).toEqual([null, null]);
    expect(last()).toMatchObject({ event: 'ignored', address, why: expect.stringMatching(why) });
    expect(standin.snapshot()).toEqual(before);
  });

  it('and a desk that tells nothing is asked in vain', async () => {
    const { send, last } = standinOf(await shippedDesk('controller-128'));
    expect(send('/mix/1/filter/1/gain')).toBeNull();
    expect(last()).toMatchObject({ event: 'ignored', why: expect.stringMatching(/answers none/) });
  });
});

describe('numbers padded with zeros', () => {
  it('are answered padded, and not otherwise', async () => {
    const padded = (template: string): string => template.replace(/\{(\w+)\}/g, '{$1:02}');
    const desk = await shippedDesk('two-legs', ({ osc, ...target }) => ({
      ...target,
      ...(osc && {
        osc: {
          ...osc,
          addresses: Object.fromEntries(Object.entries(osc.addresses).map(([k, v]) => [k, padded(v)])),
        },
      }),
    }));
    const { send, last } = standinOf(desk);
    send('/mix/03/filter/02/gain', i(0));
    expect(last()).toMatchObject({ event: 'write', output: 3, slot: '2' });
    expect([send('/mix/03/filter/02/gain/now'), send('/mix/3/filter/02/gain/now')]).toEqual([i(0), null]);
    expect(last()).toMatchObject({ event: 'ignored', why: expect.stringMatching(/no such address/) });
  });
});

describe('pairs of outputs', () => {
  it('share one set of filters where their legs do', async () => {
    const { send, ask, last } = standinOf(await shippedDesk('log-179'));
    send('/mix/4/filter/1/gain', f(-16.5));
    expect(last()).toMatchObject({ output: 4, outputs: [3, 4] });
    const read = [2, 3, 4, 5].map((output) => ask(`/mix/${output}/filter/1/gain`));
    expect(read).toEqual([f(0), f(-16.5), f(-16.5), f(0)]);
  });

  it('have a set each where their legs are apart', async () => {
    const { send, ask, last } = standinOf(await shippedDesk('two-legs'));
    send('/mix/4/filter/1/gain', i(0));
    expect(last()).toMatchObject({ output: 4, outputs: [4] });
    expect([ask('/mix/3/filter/1/gain'), ask('/mix/4/filter/1/gain')]).toEqual([i(24), i(0)]);
  });

  const banksOf = async (
    pairs: Target['outputs']['pairs'],
    options: StandinSetup = {},
  ): Promise<readonly (readonly number[])[]> => {
    const desk = await shippedDesk('log-179', (target) => ({
      ...target,
      outputs: { count: 5, stereo: 'legs-share', ...(pairs === undefined ? {} : { pairs }) },
    }));
    return standinOf(desk, options)
      .standin.snapshot()
      .filters.map(({ outputs }) => outputs);
  };

  it('are those the target lists, none where any two may be one, and those a show has where it is told', async () => {
    expect(await banksOf('odd-even')).toEqual([[1, 2], [3, 4], [5]]);
    expect(await banksOf(['5/1', '2/4'])).toEqual([[5, 1], [2, 4], [3]]);
    expect(await banksOf('any')).toEqual([[1], [2], [3], [4], [5]]);
    expect(await banksOf('any', { outputs: { pairs: [[4, 1]] } })).toEqual([[4, 1], [2], [3], [5]]);
    expect(await banksOf(undefined, { outputs: { pairs: [[3, 4]] } })).toEqual([[1], [2], [3, 4], [5]]);
  });

  it.each([[[1, 4]], [[2, 1]]] as const)('that the desk has not are refused: %j', async (pair) => {
    const { makeStandin } = await import('../../src/standin/standin.js');
    const made = makeStandin(await shippedDesk('log-179'), { outputs: { pairs: [pair] } });
    expect(made).toMatchObject({ ok: false, error: [{ code: 'pair-unknown' }] });
  });

  it('leave the last of an odd number on its own', async () => {
    const desk = await shippedDesk('log-179', (target) => ({
      ...target,
      outputs: { count: 3, stereo: 'legs-share' },
    }));
    expect(
      standinOf(desk)
        .standin.snapshot()
        .filters.map(({ outputs }) => outputs),
    ).toEqual([[1, 2], [3]]);
  });
});

describe('another type', () => {
  const twoGrids = () =>
    shippedDesk('log-179', (target) => ({
      ...target,
      quantisers: { ...target.quantisers, coarse: { kind: 'table', values: [1000, 5000, 10_000, 20_000] } },
      slots: [{ id: '1', types: { ...target.slots[0]?.types, lowpass: { frequency: 'coarse', q: 0.71 } } }],
    }));

  it('takes a knob to the nearest value of its grid there', async () => {
    const { send, ask, last } = standinOf(await twoGrids());
    send('/mix/1/filter/1/type', i(2));
    // 19374 Hz lies nearer to 20 kHz than to 10 kHz.
    send('/mix/1/filter/1/frequency', f(logHz(175)));
    send('/mix/1/filter/1/type', i(4));
    expect(last()).toMatchObject({ moved: [{ parameter: 'frequency', display: '20.00 kHz' }] });
    expect(ask('/mix/1/filter/1/frequency')).toEqual(f(20_000));
    send('/mix/1/filter/1/frequency', f(4800));
    expect(last()).toMatchObject({ display: '5.000 kHz', of: 4 });
    send('/mix/1/filter/1/type', i(2));
    // log(5000 / 26) / log(21700 / 26) * 178 = 139.2.
    expect(ask('/mix/1/filter/1/frequency')).toEqual(f(logHz(139)));
  });

  it('leaves knobs alone whose grid is the same, and those it has no use for can be read', async () => {
    const { send, ask, last } = standinOf(await shippedDesk('log-179'));
    send('/mix/1/filter/1/q', f(99));
    send('/mix/1/filter/1/frequency', f(logHz(150)));
    send('/mix/1/filter/1/type', i(0));
    expect(last()).toMatchObject({ display: 'low cut', moved: [] });
    expect([ask('/mix/1/filter/1/q'), ask('/mix/1/filter/1/frequency')]).toEqual([f(10.6), f(logHz(150))]);
  });
});

describe('names of outputs', () => {
  it('are told as given, else by number', async () => {
    const { ask } = standinOf(await shippedDesk('log-179'), {
      outputs: { names: new Map([[3, 'Bass é']]) },
    });
    expect([ask('/mix/3/name'), ask('/mix/4/name')]).toEqual([s('Bass é'), s('Out 4')]);
  });

  it('are refused where they cannot be sent', async () => {
    const { makeStandin } = await import('../../src/standin/standin.js');
    const made = makeStandin(await shippedDesk('log-179'), { outputs: { names: new Map([[1, 'a\0b']]) } });
    expect(made).toMatchObject({ ok: false, error: [{ code: 'name-unfit' }] });
  });
});
