import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeXml } from '../../../src/documents/write-xml.js';
import type { FilterType } from '../../../src/filters/filter.js';
import type { Target } from '../../../src/model/target.js';
import { recipeOn, rig } from '../../live/recipe-on.js';
import { inFolder } from '../run.js';
import { lies, rehearse, told } from './rehearsal.js';

/*
 * A desk that counts its filter types in one order in slots 2 and 4, and in two others in slots 1 and 3: by the real
 * program against a stand-in on a real socket. The orders are made up.
 */

const ofAll: readonly FilterType[] = ['highpass', 'lowshelf', 'peaking', 'highshelf', 'lowpass'];
const own: Readonly<Record<string, readonly FilterType[]>> = {
  1: ['peaking', 'lowpass', 'highpass', 'highshelf', 'lowshelf'],
  3: ['notch', 'highshelf', 'lowpass', 'lowshelf', 'bandpass', 'highpass', 'peaking'],
};

const withOrders = (target: Target): Target => ({
  ...target,
  slots: target.slots.map((slot) => {
    const typeOrder = own[slot.id];
    return typeOrder ? { ...slot, typeOrder } : slot;
  }),
});

const names = new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name])));

const quick = ['--rate', '5000', '--timeout', '100', '--json'];

describe('a desk whose slots count their types in different orders', () => {
  it('is pushed to, read back, verified and restored by what each slot counts', () =>
    inFolder(async (folder) => {
      const rehearsal = await rehearse(folder, {
        target: 'log-179',
        change: withOrders,
        seed: 5,
        outputs: { names },
      });
      try {
        const { recipe, command, snapshot, desk, events } = rehearsal;
        // As XML, so that the orders come through it.
        const file = join(folder, 'target.xml');
        await writeFile(file, writeXml(desk.target));
        const before = snapshot();
        const pushed = await command('push', [recipe, '--target', file, ...quick, '--yes']);
        expect(pushed.exitCode, pushed.stderr).toBe(0);
        const report = told(pushed);
        expect(report.mixes.map(({ state }) => state)).toEqual(['applied', 'applied']);
        expect(lies(report, before, snapshot(), desk)).toEqual([]);

        const placed = recipeOn(desk).mixes.flatMap(({ filters }) => filters);
        const counted = placed.map(({ slot, type }) => (own[slot] ?? ofAll).indexOf(type));
        // What the desk told last of each slot's type: the first mix is on output 1, the second on 5.
        const answered = placed.map(({ slot }, at) => {
          const output = at < placed.length / 2 ? 1 : 5;
          const last = events.findLast(
            (event) => event.event === 'read' && event.address === `/mix/${output}/filter/${slot}/type`,
          );
          return last?.event === 'read' && last.answer.type === 'i' ? last.answer.value : null;
        });
        expect(placed.some(({ slot }) => own[slot]) && placed.some(({ slot }) => !own[slot])).toBe(true);
        expect(answered).toEqual(counted);

        const verified = await command('verify', [recipe, '--target', file, ...quick]);
        expect(verified.exitCode, verified.stderr).toBe(0);
        // A target with one order for all slots takes the same numbers for other types, in slots 1 and 3 only.
        const mistaken = told(await command('verify', [recipe, '--target', 'log-179', ...quick]));
        const values = mistaken.mixes.flatMap((mix) => mix.values);
        const otherwise = values.filter(
          ({ parameter, state }) => parameter === 'type' && state === 'differs',
        );
        expect(otherwise.length).toBeGreaterThan(0);
        expect(otherwise.every(({ slot }) => own[slot])).toBe(true);
        const restored = await command('restore', [report.journal ?? '', ...quick, '--yes']);
        expect(restored.exitCode, restored.stderr).toBe(0);
        expect(snapshot()).toEqual(before);
      } finally {
        await rehearsal.close();
      }
    }));
});
