import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import type { Target } from '../../../src/model/target.js';
import { blankDraft } from '../../live/learn/blank-draft.js';
import { shippedDesk } from '../../live/recipe-on.js';
import { inFolder, type Run, runLoaded } from '../run.js';
import { type LearnTold, learnTold } from './learn-told.js';
import { type OtherDesk, type Peculiar, startOtherDesk } from './other-desk.js';

/*
 * Learning from a desk of others, on a bare socket: what is written is what that desk met. Its grids are worked out here:
 * 179 frequencies from 26 Hz to 21.7 kHz and 58 Qs from 0.33 to 10.6 in equal ratios, gains from -16.5 to 9 dB by 0.75 dB.
 */

export const output = 7;
const { target } = await shippedDesk('log-179');

interface Knob {
  readonly count: number;
  at(index: number): number;
  /** The step nearest to a value, not a whole one. */
  place(value: number): number;
}

const ratios = (from: number, to: number, count: number): Knob => ({
  count,
  at: (index) => from * (to / from) ** (index / (count - 1)),
  place: (value) => (Math.log(value / from) / Math.log(to / from)) * (count - 1),
});

const knobs: Readonly<Record<string, Knob>> = {
  frequency: ratios(26, 21_700, 179),
  q: ratios(0.33, 10.6, 58),
  gain: { count: 35, at: (index) => -16.5 + 0.75 * index, place: (value) => (value + 16.5) / 0.75 },
};

const parameterIn = (address: string): string => address.split('/').at(-1) ?? '';

/** What a desk makes of a number, by how it takes what lies between its steps. */
const snapping =
  (whole: (place: number) => number): NonNullable<Peculiar['snap']> =>
  (address, value) => {
    const knob = knobs[parameterIn(address)];
    if (!knob) return value;
    const place = value <= 0 && parameterIn(address) !== 'gain' ? 0 : knob.place(value);
    // A float that was told comes back as the step it was told for.
    return knob.at(Math.min(knob.count - 1, Math.max(0, whole(place))));
  };

export const nearest = snapping(Math.round);
export const below = snapping((place) => Math.floor(place + 1e-4));

const outputs = Array.from({ length: 18 }, (_, index) => index + 1);

/** A desk in use: every slot a bell that is on, its gain below 0 dB on some and above on others. */
export const start = new Map<string, number | string>(
  outputs.flatMap((each) => [
    [`/mix/${each}/name`, `Spare ${each}`] as [string, string],
    ...['1', '2', '3', '4'].flatMap((slot, at): [string, number][] => {
      const place = `/mix/${each}/filter/${slot}`;
      return [
        [`${place}/on`, at % 2],
        [`${place}/type`, 2],
        [`${place}/frequency`, nearest(`${place}/frequency`, 100 * 4 ** at)],
        [`${place}/q`, nearest(`${place}/q`, 1 + at)],
        [`${place}/gain`, at === 1 ? -6 : 3],
      ];
    }),
  ]),
);

interface Written {
  readonly address: string;
  readonly value: number;
  readonly before: ReadonlyMap<string, number | string>;
}

interface Case {
  readonly desk: string;
  readonly peculiar?: (
    writes: readonly Written[],
    state: () => ReadonlyMap<string, number | string>,
  ) => Peculiar;
  readonly draft?: (draft: Target) => Target;
  readonly flags?: readonly string[];
  /** Whether its sections go on without being told to: then what raises nothing may meet one that has just gone on. */
  readonly goesOn?: boolean;
  /** What stands otherwise on one leg only. */
  readonly apart?: ReadonlyMap<string, number | string>;
  /** How the desk stands, where not as `start` has it. */
  readonly standing?: ReadonlyMap<string, number | string>;
}

export interface Outcome extends Case {
  readonly run: Run;
  readonly told: LearnTold;
  readonly desks: OtherDesk;
  readonly writes: readonly Written[];
}

export const learnFrom = async (
  each: Case,
  check: (outcome: Outcome) => void | Promise<void>,
): Promise<void> =>
  inFolder(async (folder) => {
    const draft = join(folder, 'draft.json');
    await writeFile(draft, writeJson((each.draft ?? ((same) => same))(blankDraft(target))));
    const writes: Written[] = [];
    const legs = [...(each.standing ?? [])].flatMap(([address, value]) => [
      [address, value] as const,
      // The draft says that its legs share: they stand alike, or nothing is turned.
      [address.replace(`/mix/${output}/`, `/mix/${output + 1}/`), value] as const,
    ]);
    const begin = new Map([...start, ...legs, ...(each.apart ?? [])]);
    const shadow = new Map(begin);
    const own = each.peculiar?.(writes, () => shadow) ?? { snap: nearest };
    const desks = await startOtherDesk(begin, {
      ...own,
      snap: (address, value) => {
        writes.push({ address, value, before: new Map(shadow) });
        const stands = (own.snap ?? nearest)(address, value);
        shadow.set(address, stands);
        return stands;
      },
      also: (address, value, state) => {
        const others = own.also?.(address, value, state) ?? [];
        for (const [other, change] of others) shadow.set(other, change);
        return others;
      },
    });
    try {
      const args = ['--target', draft, '--to', `127.0.0.1:${desks.port}`, '--output', String(output)];
      const env = { BANDWRIGHT_JOURNALS: join(folder, 'journals') };
      const run = await runLoaded(
        ['learn', ...args, '--json', '--rate', '20000', ...(each.flags ?? ['--yes'])],
        { env },
      );
      const outcome = { ...each, run, told: learnTold(run), desks, writes };
      // Whatever came of it: nothing outside the output was written, and no section that was on had its gain raised.
      expect(writes.filter(({ address }) => !address.startsWith(`/mix/${output}/filter/`))).toEqual([]);
      expect(
        writes.filter(({ address, value, before }) => {
          const isOn = before.get(address.replace(/[^/]+$/, 'on')) === 1;
          return parameterIn(address) === 'gain' && isOn && value > Number(before.get(address));
        }),
      ).toEqual([]);
      // Nothing but its switch was ever written to a section that was on.
      expect(
        writes.filter(({ address, before }) => {
          const isOn = before.get(address.replace(/[^/]+$/, 'on')) === 1;
          const mayMeet = each.goesOn ? ['on', 'frequency', 'q', 'gain'] : ['on'];
          return isOn && !mayMeet.includes(parameterIn(address));
        }),
      ).toEqual([]);
      for (const [address, was] of begin) expect([address, desks.state.get(address)]).toEqual([address, was]);
      await check(outcome);
    } finally {
      desks.close();
    }
  });

/** What is said of the three grids, in short. */
export const summary = ({ grids }: LearnTold) =>
  Object.fromEntries(grids.map(({ name, spec, open }) => [name, open ?? spec]));

export const all = {
  frequency: { kind: 'geometric', from: 26, to: 21_700, count: 179 },
  q: { kind: 'geometric', from: 0.33, to: 10.6, count: 58 },
  gain: { kind: 'linear', from: -16.5, to: 9, step: 0.75 },
};

/** What lies beyond its ends it does not take at all. */
export const refusing = (state: () => ReadonlyMap<string, number | string>): Peculiar => ({
  snap: (address, value) => {
    const knob = knobs[parameterIn(address)];
    const isBeyond =
      knob &&
      (value < knob.at(0) * (1 - 1e-6 * Math.sign(knob.at(0))) ||
        value > knob.at(knob.count - 1) * (1 + 1e-6));
    return isBeyond ? Number(state().get(address)) : nearest(address, value);
  },
});
