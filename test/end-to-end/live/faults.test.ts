import { afterAll, describe, expect, it } from 'vitest';
import type { OscTransport } from '../../../src/model/target.js';
import { inFolder } from '../run.js';
import { guardedOutputs, lies, type Rehearsal, rehearse, type Told, told } from './rehearsal.js';

/*
 * Every fault a stand-in can have, over every way OSC travels, at three rates of loss: the built program against a
 * stand-in on a real socket. Whatever happens, the report is true of the desk, and nothing is written but what the
 * recipe names. What to expect of each fault follows from what it does.
 */

/** A target for each transport, each with another encoding of its own. */
const transports: readonly [OscTransport, string][] = [
  ['udp', 'log-179'],
  ['tcp-slip', 'digits-3'],
  ['tcp-length-prefix', 'octave-6'],
];

/** What a network may do to messages: a push copes with it. */
const copes = ({ mixes }: Told): void => {
  expect(mixes.map(({ name, state }) => [name, state])).toEqual([
    ['Heron', 'applied'],
    ['Lark', 'applied'],
  ]);
};

const faults: readonly [string, readonly string[], (report: Told) => void][] = [
  ['none', [], copes],
  ['delay', ['delay=5..60'], copes],
  ['duplication', ['duplicate=30%'], copes],
  ['reordering', ['reorder=30%'], copes],
  ['wrong types', ['wrong-type=10%'], copes],
  [
    'a value that will not take',
    ['stuck=/mix/1/filter/1/frequency'],
    ({ result, mixes }) => {
      expect(result).toBe('falls-short');
      expect(mixes.find(({ name }) => name === 'Heron')?.notes.join()).toMatch(
        /slot 1, frequency: it does not take/,
      );
      expect(mixes.find(({ name }) => name === 'Lark')?.state).toBe('applied');
    },
  ],
  [
    'silence while it is read',
    ['silent-after=12'],
    ({ result, problems, mixes }) => {
      expect(result, JSON.stringify(problems)).toBe('desk-lost');
      expect(problems.map(({ code }) => code)).toEqual(['desk-silent']);
      expect(mixes.map(({ state }) => state)).toEqual(['untouched', 'untouched']);
    },
  ],
  [
    'silence half-way',
    ['silent-after=90'],
    ({ result, problems }) => {
      expect(result).toBe('desk-lost');
      expect(problems.map(({ code }) => code)).toContain('desk-silent');
    },
  ],
  [
    'a dial turned by someone else',
    ['meddle=/mix/5/filter/1/frequency@6'],
    ({ mixes }) => {
      expect(mixes.map(({ state }) => state)).toEqual(['applied', 'applied']);
    },
  ],
];

const cases = transports.flatMap(([kind, target]) =>
  faults.flatMap(([fault, asked, expected]) =>
    ['0%', '10%', '30%'].map((loss) => ({ kind, target, fault, asked, expected, loss })),
  ),
);

/** Writes to outputs, or reads of any, that the recipe has no business with. */
const strayed = ({ events }: Rehearsal): readonly string[] =>
  events.flatMap((event) => {
    if (event.event !== 'write' && event.event !== 'read') return [];
    if (event.event === 'write' && event.by === 'someone-else') return [];
    const output = Number(/^\/mix\/(\d+)\//.exec(event.address)?.[1]);
    return guardedOutputs.includes(output) ? [] : [`${event.event} ${event.address}`];
  });

/** What any report said that was not so, and what any push touched that was not its business: over all tries. */
const untruths: string[] = [];

const holds = async (each: (typeof cases)[number]): Promise<void> => {
  await inFolder(async (folder) => {
    const { target, kind, loss, asked } = each;
    const lost = loss === '0%' ? [] : [`loss=${loss}`];
    const rehearsal = await rehearse(folder, { target, kind, faults: [...lost, ...asked], seed: 7 });
    try {
      const before = rehearsal.snapshot();
      // A third of all messages lost takes many retries; a desk that says nothing more needs few to be given up.
      const retries = each.fault.startsWith('silence') ? '7' : '15';
      const retry = ['--rate', '2000', '--timeout', '50', '--retries', retries];
      const args = [rehearsal.recipe, '--yes', '--accept-names', '--json', ...retry];
      const report = told(await rehearsal.command('push', args));
      const untrue = [...lies(report, before, rehearsal.snapshot(), rehearsal.desk), ...strayed(rehearsal)];
      untruths.push(...untrue);
      expect(untrue).toEqual([]);
      each.expected(report);
    } finally {
      await rehearsal.close();
    }
  });
};

const named = '$fault over $kind with $loss lost';
const isDuplication = ({ fault }: (typeof cases)[number]): boolean => fault === 'duplication';

describe('a push to a desk with faults', () => {
  afterAll(() => {
    expect(untruths).toEqual([]);
  });

  it.concurrent.each(cases.filter((each) => !isDuplication(each)))(named, holds);

  // A second copy that comes late undoes what was set since. A push sets that again, twice at most, and now and then meets one
  // each time: then it tells so, rightly, and is tried anew. One that cannot cope fails every time.
  it.concurrent.each(cases.filter(isDuplication))(named, { retry: 2 }, holds);
});
