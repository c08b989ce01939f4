import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OscParameter, Target } from '../../src/model/target.js';
import type { OscArgument } from '../../src/osc/message.js';
import { makeStandin } from '../../src/standin/standin.js';
import { got, shippedDesk, standinOf } from '../standin/desk.js';

const ids = ['log-179', 'r40', 'floats', 'octave-6', 'two-legs', 'rate-96', 'cut-section', 'lr-24'];

/** Texts that some desk shows for a parameter, and some that none does. */
const texts: Readonly<Record<string, readonly string[]>> = {
  frequency: ['19.0 kHz', ' 37.5 Hz ', '1.00 kHz', '200 Hz'],
  q: ['1.00', '0.500', '20.0'],
  gain: ['-4.5 dB', '0.0 dB', '+15.0 dB'],
  type: ['Bell', 'Notch', 'High cut', 'Low shelf'],
};
const anyText = fc.constantFrom(...Object.values(texts).flat(), 'on', '', '1e3', '+0.0 dB');

const float = (min: number, max: number) => fc.float({ min: Math.fround(min), max: Math.fround(max) });

/** Arguments of each OSC type the targets name, on their scales and beyond. */
const byType: Readonly<Record<string, fc.Arbitrary<OscArgument>>> = {
  i: fc
    .oneof(fc.integer({ min: -1, max: 5 }), fc.integer({ min: -5, max: 300 }))
    .map((value) => ({ type: 'i', value })),
  f: fc
    .oneof(float(-30, 25_000), float(-0.1, 1.1), fc.constantFrom(Number.NaN, -0, 1 / 0, -1 / 0))
    .map((value) => ({ type: 'f', value })),
  d: fc
    .oneof(fc.double({ min: -30, max: 25_000 }), fc.constantFrom(Number.NaN, -0, 1 / 0))
    .map((value) => ({ type: 'd', value })),
  s: anyText.map((value) => ({ type: 's', value })),
};

const anyType = fc.oneof(...Object.values(byType));

/** An address, and mostly an argument of the type it takes. */
const writes = (addresses: readonly string[], { osc }: Target) =>
  fc.constantFrom(...addresses).chain((address) => {
    const parameter = address.split('/').at(-1) as OscParameter;
    const type = osc?.encodings[parameter]?.type ?? 's';
    const shown = fc
      .constantFrom(...(texts[parameter] ?? ['']))
      .map((value): OscArgument => ({ type: 's', value }));
    const fitting = (type === 's' ? shown : byType[type]) ?? anyType;
    return fc.tuple(fc.constant(address), fc.oneof({ arbitrary: fitting, weight: 9 }, anyType));
  });

describe.each(ids)('%s', (id) => {
  it('what is taken is what is told, told again it changes nothing, and what is refused changes nothing', async () => {
    const desk = await shippedDesk(id);
    const { addresses } = got(makeStandin(desk));
    let taken = 0;
    fc.assert(
      fc.property(
        fc.array(writes(addresses.slice(0, 60), desk.target), { minLength: 10, maxLength: 30 }),
        (sent) => {
          const { standin, send, ask, last } = standinOf(desk);
          for (const [address, value] of sent) {
            const before = JSON.stringify(standin.snapshot());
            send(address, value);
            if (last()?.event !== 'write') {
              expect(last()?.event).toBe('refused');
              expect(JSON.stringify(standin.snapshot())).toBe(before);
              continue;
            }
            taken++;
            const after = JSON.stringify(standin.snapshot());
            const told = ask(address);
            expect(told?.type).toBe(value.type);
            send(address, told as OscArgument);
            expect(last()?.event).toBe('write');
            expect(JSON.stringify(standin.snapshot())).toBe(after);
            expect(ask(address)).toEqual(told);
            expect(last()).toMatchObject({ event: 'read', address });
          }
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 25) },
    );
    expect(taken).toBeGreaterThan(100);
  });
});

describe('the nearest step', () => {
  const fractionOf = async (id: string, address: string, steps: number) => {
    const { send, ask } = standinOf(await shippedDesk(id));
    fc.assert(
      fc.property(fc.float({ min: 0, max: 1, noNaN: true }), (value) => {
        send(address, { type: 'f', value });
        const told = (ask(address) as { readonly value: number }).value;
        const index = told * (steps - 1);
        expect(Math.abs(index - Math.round(index))).toBeLessThan(1e-4);
        expect(Math.abs(told - value)).toBeLessThan(0.5 / (steps - 1) + 1e-6);
      }),
    );
  };

  // The counts stand in the targets.
  it('of a fraction lies half a step away at most', async () => {
    await fractionOf('cut-section', '/mix/1/filter/1/frequency', 241);
    await fractionOf('cut-section', '/mix/1/filter/low/frequency', 60);
    await fractionOf('lr-24', '/mix/1/filter/2/q', 61);
  });

  it('of a gain is the nearest multiple of half a decibel up to 15 dB', async () => {
    const { send, ask } = standinOf(await shippedDesk('cut-section'));
    fc.assert(
      fc.property(fc.float({ min: -40, max: 40, noNaN: true }), (value) => {
        send('/mix/1/filter/1/gain', { type: 'f', value });
        const told = (ask('/mix/1/filter/1/gain') as { readonly value: number }).value;
        expect(Number.isInteger(told * 2) && Math.abs(told) <= 15).toBe(true);
        const within = Math.min(15, Math.max(-15, value));
        expect(Math.abs(told - within)).toBeLessThanOrEqual(0.25);
      }),
    );
  });
});
