import { describe, expect, it } from 'vitest';
import type { Target } from '../../../src/model/target.js';
import {
  all,
  below,
  learnFrom,
  nearest,
  type Outcome,
  output,
  refusing,
  summary,
} from './learn-from-other.js';
import type { Peculiar } from './other-desk.js';

/* What learning does on desks that are not as the draft, or anybody, would have them; the rules that always hold are in learnFrom. */

describe('learning from a desk of others', () => {
  const found = (result: string, exit: number) => (outcome: Outcome) => {
    expect(summary(outcome.told), outcome.run.stderr).toEqual(all);
    expect([outcome.told.result, outcome.told.name, outcome.run.exitCode]).toEqual([
      result,
      `Spare ${output}`,
      exit,
    ]);
    // Its legs do not share, whatever the draft says.
    expect(outcome.told.partner).toEqual({ output: 8, goesAlong: 'no' });
  };

  it('that goes to the nearest step, and to its stops', async () => {
    await learnFrom({ desk: 'plain' }, found('done', 0));
  });

  it('that goes to the step below', async () => {
    await learnFrom({ desk: 'floors', peculiar: () => ({ snap: below }) }, found('done', 0));
  });

  it('that does not take what lies beyond its ends', async () => {
    await learnFrom({ desk: 'refuses', peculiar: (_, state) => refusing(state) }, found('done', 0));
  });

  it('turns nothing in a section that does not go off, and learns from the others', async () => {
    const stuck = `/mix/${output}/filter/2/on`;
    const peculiar = (): Peculiar => ({
      snap: (address, value) => (address === stuck ? 1 : nearest(address, value)),
    });
    await learnFrom({ desk: 'stuck', peculiar }, ({ told, writes }) => {
      expect(told.leftAlone.map(({ slot }) => slot)).toEqual(['2']);
      expect(told.leftAlone[0]?.why).toContain('switch');
      const there = writes.filter(({ address }) => address.includes('/filter/2/'));
      expect([...new Set(there.map(({ address }) => address))]).toEqual([stuck]);
      expect(summary(told)).toEqual(all);
    });
  });

  it('goes on with nothing in a section that a change of type switches on', async () => {
    const peculiar = (): Peculiar => ({
      also: (address, _, state) =>
        address.endsWith('/type') && state.get(address) !== 2 ? [[address.replace(/type$/, 'on'), 1]] : [],
    });
    await learnFrom({ desk: 'switches on', peculiar }, ({ told }) => {
      expect(told.leftAlone.map(({ slot, parameter }) => [slot, parameter])).toEqual(
        ['1', '2', '3', '4'].map((slot) => [slot, 'type']),
      );
      expect([told.result, summary(told)]).toEqual(['done', all]);
    });
  });

  it('without a switch: turns frequency and width at 0 dB, no gain and no type, and nothing at another gain', async () => {
    const draft = (blank: Target): Target => {
      if (!blank.osc) return blank;
      const { on: _address, ...addresses } = blank.osc.addresses;
      const { on: _encoding, ...encodings } = blank.osc.encodings;
      return { ...blank, osc: { ...blank.osc, addresses, encodings } };
    };
    const flat = new Map<string, number>([
      [`/mix/${output}/filter/1/on`, 0],
      [`/mix/${output}/filter/1/gain`, 0],
    ]);
    // Whether it is on cannot be told here: the record of this desk has it off, so that the rule above asks for nothing.
    await learnFrom({ desk: 'no switch', draft, standing: flat }, ({ told, writes, run }) => {
      expect(told.leftAlone.map(({ slot, parameter }) => [slot, parameter])).toEqual([
        ['1', 'gain'],
        ['2', null],
        ['3', null],
        ['4', null],
      ]);
      expect(Object.keys(summary(told)).sort()).toEqual(['frequency', 'q']);
      expect(told.notLearned).toEqual(['gain']);
      expect([...new Set(writes.map(({ address }) => address))].sort()).toEqual(
        ['frequency', 'q'].map((name) => `/mix/${output}/filter/1/${name}`),
      );
      expect(run.exitCode).toBe(1);
      expect(run.stderr).not.toContain('goes off');
      expect(run.stderr).toContain('no address of a switch');
    });
  });

  it('writes nothing where the other leg stands otherwise, since what goes along there could not be put back', async () => {
    const apart = new Map([[`/mix/8/filter/1/frequency`, nearest('/frequency', 2000)]]);
    await learnFrom({ desk: 'legs apart', apart }, ({ run, told, writes }) => {
      expect([run.exitCode, writes]).toEqual([1, []]);
      expect(told.problems.map(({ code }) => code)).toEqual(['legs-differ']);
      expect(told.problems[0]?.message).toContain('legs-separate');
    });
  });

  it('writes nothing where nobody agreed, or it is a dry run', async () => {
    await learnFrom({ desk: 'plain', flags: ['--dry-run'] }, ({ run, writes }) => {
      expect([run.exitCode, writes]).toEqual([0, []]);
      expect(run.stderr).toContain('Spare 7');
    });
    await learnFrom({ desk: 'plain', flags: [] }, ({ run, writes }) => {
      expect([run.exitCode, writes]).toEqual([2, []]);
      expect(run.stderr).toContain('--yes');
    });
  });
});
