import { describe, expect, it } from 'vitest';
import type { Target } from '../../../src/model/target.js';
import { all, learnFrom, nearest, type Outcome, output, summary } from './learn-from-other.js';

/* Sections that go on while they are learned from: no gain is ever turned in one that is on, which learnFrom holds at the socket. */

const on = (slot: string): string => `/mix/${output}/filter/${slot}/on`;
const slotOf = (address: string): string => address.split('/').at(-2) ?? '';

/** What turned a knob, and did not only tell it what it stood at. */
const turned = (writes: Outcome['writes'], knob: string): readonly string[] =>
  writes.flatMap(({ address, value, before }) =>
    address.endsWith(`/${knob}`) && value !== before.get(address) ? [`${address} ${value}`] : [],
  );

describe('learning from sections that go on meanwhile', () => {
  const switchedBy = (...knobs: readonly string[]) => ({
    snap: nearest,
    also: (address: string): readonly [string, number][] =>
      knobs.some((knob) => address.endsWith(`/${knob}`)) ? [[address.replace(/[^/]+$/, 'on'), 1]] : [],
  });

  it('by their frequency: turns no gain where it was swept, and says why', async () => {
    const peculiar = () => switchedBy('frequency');
    await learnFrom({ desk: 'by frequency', goesOn: true, peculiar }, ({ told, writes, run }) => {
      // Where it was turned once, it stays off once it was told to again.
      expect(summary(told)).toEqual(all);
      expect(told.leftAlone.map(({ slot, parameter }) => [slot, parameter])).toEqual([['1', 'gain']]);
      expect(told.leftAlone[0]?.why).toContain('turning its frequency switches it on');
      const inFirst = turned(writes, 'gain').filter((each) => each.includes('/filter/1/'));
      expect([inFirst, told.mix?.state, run.exitCode]).toEqual([[], 'put-back', 0]);
    });
  });

  it('by what is put back last: says that the desk may do so itself', async () => {
    const draft = (blank: Target): Target => {
      if (!blank.osc) return blank;
      const { gain: _address, ...addresses } = blank.osc.addresses;
      const { gain: _encoding, ...encodings } = blank.osc.encodings;
      return { ...blank, osc: { ...blank.osc, addresses, encodings } };
    };
    const peculiar = () => switchedBy('frequency');
    await learnFrom({ desk: 'without gains', goesOn: true, draft, peculiar }, ({ told }) => {
      expect(told.mix?.notes.join(' ')).toContain('switch a section on when one of its knobs is turned');
      expect(told.mix?.notes.join(' ')).not.toContain('stood otherwise at the last readback');
    });
  });

  it('by their gain: turns none', async () => {
    const peculiar = () => switchedBy('gain');
    await learnFrom({ desk: 'by gain', goesOn: true, peculiar }, ({ told, writes }) => {
      expect(told.notLearned).toEqual(['gain']);
      expect(told.leftAlone.map(({ parameter }) => parameter)).toEqual(['gain', 'gain', 'gain', 'gain']);
      expect(turned(writes, 'gain')).toEqual([]);
    });
  });

  it.each([3, 38, 60])('by somebody, at write %i: learns all the same', async (moment) => {
    let count = 0;
    const peculiar = () => ({
      snap: nearest,
      also: (address: string): readonly [string, number][] =>
        ++count === moment ? [[on(slotOf(address)), 1]] : [],
    });
    await learnFrom({ desk: 'somebody', goesOn: true, peculiar }, ({ told }) => {
      expect(summary(told)).toEqual(all);
    });
  });

  it.each([6, 46])('by a reboot after write %i: raises nothing in what comes up on', async (moment) => {
    const standing = new Map([[on('1'), 1]]);
    const peculiar = () => ({ snap: nearest, rebootsAfter: moment });
    await learnFrom({ desk: 'reboots', goesOn: true, standing, peculiar }, ({ told }) => {
      expect(told.mix?.state).toBe('put-back');
    });
  });
});
