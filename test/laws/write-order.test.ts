import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SlotPlan, Wanted } from '../../src/live/plan/plan.js';
import { convergeSlots } from '../../src/live/write/converge-slots.js';
import type { Desk } from '../../src/model/desk.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { OscParameter, Target } from '../../src/model/target.js';
import { loadTarget } from '../../src/node/targets.js';
import type { OscArgument } from '../../src/osc/message.js';
import { slotParameters } from '../../src/osc/slot-parameters.js';
import { type Effect, fakeSession } from '../live/fake-session.js';

/*
 * The order that never bangs, as it is asked for: the section off or its gain at 0 dB, then type, frequency, width,
 * then gain in steps of at most 3 dB, then on. Held here for any state of a slot and any state it is to come to, on
 * the wire. The shipped target digits-3 sends frequency, Q and gain as they are, so that the test reads the messages
 * without any code of ours; its order of types is the one in its file.
 */

const shipped = async (change: (target: Target) => Target): Promise<Desk> => {
  const target = await loadTarget('digits-3');
  if (!target.ok) throw new Error('digits-3 cannot be read');
  const desk = makeDesk(change(target.value));
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

/** The same desk without a switch for its sections. */
const withoutSwitch = (target: Target): Target => {
  if (!target.osc) throw new Error('digits-3 has OSC');
  const { on: _address, ...addresses } = target.osc.addresses;
  const { on: _encoding, ...encodings } = target.osc.encodings;
  return { ...target, osc: { ...target.osc, addresses, encodings } };
};

/** And with gains that have no steps. */
const stepless = (target: Target): Target =>
  withoutSwitch({
    ...target,
    quantisers: { ...target.quantisers, gain: { kind: 'continuous', from: -24, to: 12 } },
  });

const desks = {
  switched: await shipped((target) => target),
  unswitched: await shipped(withoutSwitch),
  stepless: await shipped(stepless),
};

const types = ['peaking', 'lowshelf', 'highshelf', 'highpass', 'lowpass'];
const withGain = new Set([0, 1, 2]);

interface State {
  readonly on: number;
  readonly type: number;
  readonly frequency: number;
  readonly q: number;
  readonly gain: number;
  readonly slope: number;
}

const anyState: fc.Arbitrary<State> = fc.record({
  on: fc.constantFrom(0, 1),
  type: fc.nat({ max: types.length - 1 }),
  frequency: fc.constantFrom(20, 63.5, 440, 8000, 15000, 19000, 20000),
  q: fc.constantFrom(0.1, 0.71, 10, 20),
  gain: fc.integer({ min: -240, max: 120 }).map((tenths) => tenths / 10),
  slope: fc.constantFrom(12, 24),
});

const asFloat = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
const asInteger = (value: number): OscArgument => ({ type: 'i', value });

const argumentsOf = (state: State): Readonly<Record<string, OscArgument>> => ({
  on: asInteger(state.on),
  type: asInteger(state.type),
  frequency: asFloat(state.frequency),
  q: asFloat(state.q),
  gain: asFloat(state.gain),
  slope: asInteger(state.slope),
});

const place = '/mix/3/filter/2';
const nameOf = (address: string): string => address.slice(place.length + 1);

const numberOf = (argument: OscArgument | undefined): number =>
  argument && 'value' in argument ? Number(argument.value) : Number.NaN;

/** Brings a slot from one state to another on a desk in memory, and tells everything that was written. */
const bring = async (desk: Desk, from: State, to: State, effect?: Effect, byStep = true, now = from) => {
  const slot = desk.slots.find(({ id }) => id === '2');
  const parameters = slot && slotParameters(slot, 3, desk);
  if (!slot || !parameters?.ok) throw new Error('the slot is there');
  const values = argumentsOf(to);
  const wanted = new Map<OscParameter, Wanted>();
  const found = new Map<OscParameter, OscArgument>();
  for (const { name } of parameters.value) {
    const [want, have] = [values[name], argumentsOf(from)[name]];
    if (want) wanted.set(name, { argument: want, display: null, byStep });
    if (have) found.set(name, have);
  }
  const plan: SlotPlan = { mix: 'Mix', output: 3, slot, parameters: parameters.value, wanted };
  const memory = fakeSession(
    new Map(Object.entries(argumentsOf(now)).map(([name, value]) => [`${place}/${name}`, value])),
    effect,
  );
  const run = (readback: ReadonlyMap<OscParameter, OscArgument>) =>
    convergeSlots(
      [{ plan, readback, touched: false, trouble: null }],
      { desk, session: memory.session, canRead: true },
      new AbortController().signal,
    );
  const [work] = await run(found);
  return { work, ...memory, again: run };
};

/** Some desks keep a gain for each type, or reset it: on a change of type the gain here jumps. */
const jumpy =
  (gainDb: number): Effect =>
  (address, argument) =>
    nameOf(address) === 'type'
      ? [
          [address, argument],
          [`${place}/gain`, asFloat(gainDb)],
        ]
      : [[address, argument]];

const cases = fc.record({
  kind: fc.constantFrom('switched' as const, 'unswitched' as const),
  from: anyState,
  to: anyState,
  gainAfterType: fc.option(fc.constantFrom(-24, -7.5, 0, 12)),
});

const runCase = ({
  kind,
  from,
  to,
  gainAfterType,
}: typeof cases extends fc.Arbitrary<infer Case> ? Case : never) =>
  bring(desks[kind], from, to, gainAfterType === null ? undefined : jumpy(gainAfterType));

describe('the order of writing', () => {
  it('ends where it should, and does nothing the second time', async () => {
    await fc.assert(
      fc.asyncProperty(cases, async (each) => {
        const { work, standing, writes, again } = await runCase(each);
        expect(work?.trouble).toBeNull();
        const stands = Object.fromEntries([...standing].map(([address, value]) => [nameOf(address), value]));
        const expected = {
          ...argumentsOf(each.to),
          ...(each.kind === 'unswitched' ? { on: asInteger(each.from.on) } : {}),
        };
        expect(stands).toEqual(expected);
        const before = writes.length;
        await again(work?.readback ?? new Map());
        expect(writes.length).toBe(before);
      }),
    );
  });

  it('turns type, frequency, width and slope only while the section is off, or flat where it has no switch', async () => {
    await fc.assert(
      fc.asyncProperty(cases, async (each) => {
        const { writes } = await runCase(each);
        let stands = { ...each.from };
        for (const { address, argument } of writes) {
          const name = nameOf(address) as keyof State;
          if (name !== 'on' && name !== 'gain') {
            const isQuiet =
              each.kind === 'switched'
                ? stands.on === 0
                : !withGain.has(stands.type) || Math.abs(stands.gain) < 1e-6;
            expect(isQuiet, `${name} was written while ${JSON.stringify(stands)}`).toBe(true);
          }
          stands = { ...stands, [name]: numberOf(argument) };
          if (name === 'type' && each.gainAfterType !== null) stands.gain = each.gainAfterType;
        }
      }),
    );
  });

  it('moves a gain by at most 3 dB at a time, never beyond where it was, is to be, and 0 dB', async () => {
    await fc.assert(
      fc.asyncProperty(cases, async (each) => {
        const { writes } = await runCase(each);
        let gainDb = each.from.gain;
        const ends = [each.from.gain, each.to.gain, 0, each.gainAfterType ?? 0];
        for (const { address, argument } of writes) {
          if (nameOf(address) === 'type' && each.gainAfterType !== null) gainDb = each.gainAfterType;
          if (nameOf(address) !== 'gain') continue;
          const next = numberOf(argument);
          expect(Math.abs(next - gainDb)).toBeLessThanOrEqual(3 + 1e-5);
          expect(next).toBeGreaterThanOrEqual(Math.min(...ends) - 1e-5);
          expect(next).toBeLessThanOrEqual(Math.max(...ends) + 1e-5);
          gainDb = next;
        }
      }),
    );
  });

  it('puts a gain back at once only where the section is off, on a desk whose knobs switch theirs on', async () => {
    const knobs = fc.subarray(['frequency', 'q', 'slope', 'type'], { minLength: 1 });
    await fc.assert(
      fc.asyncProperty(
        anyState,
        anyState,
        knobs,
        fc.boolean(),
        async (from, to, switching, isSwitchedNow) => {
          // Somebody may have switched it on since it was read.
          const now = { ...from, on: isSwitchedNow ? 1 : from.on };
          const heard: string[] = [];
          const effect: Effect = (address, argument, standing) => {
            const name = nameOf(address);
            const isOn = numberOf(standing.get(`${place}/on`)) === 1;
            const rise = numberOf(argument) - numberOf(standing.get(`${place}/gain`));
            if (name === 'gain' && isOn && rise > 3 + 1e-5) heard.push(`gain by ${rise} dB`);
            const also = switching.includes(name) ? [[`${place}/on`, asInteger(1)] as const] : [];
            return [[address, argument] as const, ...also];
          };
          await bring(desks.switched, from, to, effect, false, now);
          expect(heard).toEqual([]);
        },
      ),
    );
  });

  it('moves a gain without steps by at most 3 dB at a time, beyond the ends of its scale too', async () => {
    const beyond = fc.integer({ min: -400, max: 400 }).map((tenths) => tenths / 10);
    const bell = { on: 1, type: 0, frequency: 440, q: 0.71, slope: 12 };
    await fc.assert(
      fc.asyncProperty(beyond, beyond, fc.constantFrom(440, 8000), async (fromDb, toDb, frequency) => {
        const from = { ...bell, gain: fromDb };
        const { work, writes, standing } = await bring(
          desks.stepless,
          from,
          { ...bell, frequency, gain: toDb },
          undefined,
          false,
        );
        expect(work?.trouble).toBeNull();
        let gainDb = fromDb;
        for (const { address, argument } of writes) {
          if (nameOf(address) === 'frequency') expect(Math.abs(gainDb)).toBeLessThan(1e-6);
          if (nameOf(address) !== 'gain') continue;
          expect(Math.abs(numberOf(argument) - gainDb)).toBeLessThanOrEqual(3 + 1e-5);
          gainDb = numberOf(argument);
        }
        expect(numberOf(standing.get(`${place}/gain`))).toBeCloseTo(toDb, 4);
      }),
    );
  });

  it.each([
    { endDb: 18, stepDb: 0.01 },
    { endDb: 18, stepDb: 0.025 },
    { endDb: 17.5, stepDb: 0.035 },
    { endDb: 17.6, stepDb: 0.0352 },
  ])(
    'moves a gain of steps of $stepDb dB on its steps, on a desk that has no others',
    async ({ endDb, stepDb }) => {
      const grid = { kind: 'linear', from: -endDb, to: endDb, step: stepDb };
      const desk = await shipped((target) =>
        withoutSwitch({ ...target, quantisers: { ...target.quantisers, gain: grid } }),
      );
      const count = Math.round((2 * endDb) / stepDb);
      const snap = (gainDb: number): number =>
        Math.fround(-endDb + Math.min(count, Math.max(0, Math.round((gainDb + endDb) / stepDb))) * stepDb);
      const effect: Effect = (address, argument) =>
        nameOf(address) === 'gain' ? [[address, asFloat(snap(numberOf(argument)))]] : [[address, argument]];
      const steps = fc.integer({ min: 0, max: count });
      const bell = { on: 1, type: 0, frequency: 440, q: 0.71, slope: 12 };
      await fc.assert(
        fc.asyncProperty(steps, steps, fc.constantFrom(440, 8000), async (from, to, frequency) => {
          const start = { ...bell, gain: snap(-endDb + from * stepDb) };
          const goal = { ...bell, frequency, gain: snap(-endDb + to * stepDb) };
          const { work, writes } = await bring(desk, start, goal, effect);
          expect(work?.trouble).toBeNull();
          let gainDb = start.gain;
          for (const { address, argument } of writes) {
            if (nameOf(address) !== 'gain') continue;
            expect(Math.abs(snap(numberOf(argument)) - gainDb)).toBeLessThanOrEqual(3 + 1e-4);
            gainDb = snap(numberOf(argument));
          }
        }),
        { numRuns: 60 },
      );
    },
  );

  it('writes to this slot only', async () => {
    await fc.assert(
      fc.asyncProperty(cases, async (each) => {
        const { writes } = await runCase(each);
        expect(writes.filter(({ address }) => !address.startsWith(`${place}/`))).toEqual([]);
      }),
    );
  });
});
