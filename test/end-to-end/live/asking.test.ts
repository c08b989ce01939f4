import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { OscRead, OscTransport, Target } from '../../../src/model/target.js';
import { rig } from '../../live/recipe-on.js';
import { inFolder } from '../run.js';
import { lies, type Rehearsal, rehearse, told } from './rehearsal.js';

/*
 * Every way of asking a desk, by the real program against a stand-in on a real socket. The desk sends texts, floats and
 * integers, and tells the names of its outputs.
 */

const elsewhere = (parameter: string): string => `/state/{slot}/of/{output:02}/${parameter}`;

const ways: Readonly<Record<string, OscRead>> = {
  'the same address': 'same-address-without-arguments',
  'an address before, answered there': {
    by: 'address',
    address: '/ask{address}',
    answeredAt: 'asked-address',
  },
  'an address before, answered where it is written': {
    by: 'address',
    address: '/ask{address}',
    answeredAt: 'written-address',
  },
  'an address behind': { by: 'address', address: '{address}/now', answeredAt: 'asked-address' },
  'addresses of their own': {
    by: 'address',
    addresses: {
      on: elsewhere('switch'),
      type: elsewhere('kind'),
      frequency: elsewhere('hertz'),
      q: elsewhere('q'),
      gain: elsewhere('decibels'),
      slope: elsewhere('slope'),
      outputName: '/state/{output}/called',
    },
    answeredAt: 'asked-address',
  },
  'a text': { by: 'argument', argument: { type: 's', text: '?' } },
  nil: { by: 'argument', argument: { type: 'N' } },
  'an impulse': { by: 'argument', argument: { type: 'I' } },
};

const transports: readonly OscTransport[] = ['udp', 'tcp-slip', 'tcp-length-prefix'];

const cases = Object.entries(ways).map(([way, read], index) => ({
  way,
  read,
  kind: transports[index % transports.length] ?? 'udp',
}));

const askedBy =
  (read: OscRead) =>
  (target: Target): Target => ({ ...target, ...(target.osc && { osc: { ...target.osc, read } }) });

const quick = ['--rate', '5000', '--timeout', '60', '--json'];

const names = new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name])));

/** A stand-in that is asked in one way, and the file of a target that says how to ask. */
const rehearsed = async (
  desk: OscRead,
  said: OscRead,
  kind: OscTransport,
  work: (rehearsal: Rehearsal, target: readonly string[], folder: string) => Promise<void>,
): Promise<void> =>
  inFolder(async (folder) => {
    const rehearsal = await rehearse(folder, {
      target: 'floats',
      change: askedBy(desk),
      kind,
      seed: 2,
      outputs: { names },
    });
    try {
      const file = join(folder, 'target.json');
      await writeFile(file, JSON.stringify(askedBy(said)(rehearsal.desk.target)));
      await work(rehearsal, ['--target', file], folder);
    } finally {
      await rehearsal.close();
    }
  });

const kindsOf = ({ events }: Rehearsal): readonly string[] => [...new Set(events.map(({ event }) => event))];

describe('push, verify, restore and inspect', () => {
  it.each(cases)('ask by $way, over $kind', async ({ read, kind }) => {
    await rehearsed(read, read, kind, async (rehearsal, target, folder) => {
      const { recipe, command, snapshot, desk, events } = rehearsal;
      const before = snapshot();
      const pushed = await command('push', [recipe, ...target, ...quick, '--yes']);
      expect(pushed.exitCode, pushed.stderr).toBe(0);
      const report = told(pushed);
      expect(report.mixes.map(({ name, state }) => [name, state])).toEqual([
        ['Heron', 'applied'],
        ['Lark', 'applied'],
      ]);
      expect(lies(report, before, snapshot(), desk)).toEqual([]);
      // All that was asked was a question to the desk, and all that was written was no question.
      expect([...kindsOf(rehearsal)].sort()).toEqual(['read', 'write']);
      const last = new Map(
        events.map((event, at) => ['address' in event ? `${event.event} ${event.address}` : '', at]),
      );
      for (const [key, at] of last) {
        if (key.startsWith('write ')) expect(last.get(key.replace('write', 'read'))).toBeGreaterThan(at);
      }

      const verified = await command('verify', [recipe, ...target, ...quick]);
      expect(verified.exitCode, verified.stderr).toBe(0);
      expect(told(verified).mixes.map(({ state }) => state)).toEqual(['holds', 'holds']);

      const show = join(folder, 'show.json');
      await writeFile(show, JSON.stringify(rig));
      const writes = () => events.filter(({ event }) => event === 'write').length;
      const written = writes();
      const inspected = await command('inspect', [show, ...target, ...quick]);
      expect([0, 1], inspected.stderr).toContain(inspected.exitCode);
      const { mixes } = JSON.parse(inspected.stdout.toString()) as {
        readonly mixes: readonly { readonly state: string; readonly otherNames: readonly unknown[] }[];
      };
      expect(mixes.map(({ state, otherNames }) => [state === 'not-known', otherNames])).toEqual([
        [false, []],
        [false, []],
      ]);
      expect(writes()).toBe(written);

      // A journal holds how its desk is asked.
      const restored = await command('restore', [report.journal ?? '', ...quick, '--yes']);
      expect(restored.exitCode, restored.stderr).toBe(0);
      expect(snapshot()).toEqual(before);
      expect([...kindsOf(rehearsal)].sort()).toEqual(['read', 'write']);
    });
  });
});

describe('a desk that is asked otherwise than its target says', () => {
  it.concurrent.each(
    cases.map(({ way, read }, index) => ({
      way,
      read,
      kind: transports[(index + 1) % transports.length] ?? 'udp',
      other: cases[(index + 1) % cases.length]?.read ?? 'none',
    })),
  )('is told of as silent, and nothing is written or set: $way, over $kind', async (each) => {
    await rehearsed(each.read, each.other, each.kind, async (rehearsal, target) => {
      const { recipe, command, snapshot } = rehearsal;
      const before = snapshot();
      const pushed = await command('push', [recipe, ...target, ...quick, '--yes', '--retries', '1']);
      expect(pushed.exitCode).toBe(4);
      expect(pushed.stderr).toContain('[desk-silent]');
      expect(kindsOf(rehearsal)).not.toContain('write');
      expect(snapshot()).toEqual(before);
      expect(await rehearsal.kept()).toEqual([]);
    });
  });
});
