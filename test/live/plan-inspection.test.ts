import { describe, expect, it } from 'vitest';
import { planInspection } from '../../src/live/inspect/plan-inspection.js';
import { survey } from '../../src/live/write/survey.js';
import type { Desk } from '../../src/model/desk.js';
import type { Rig } from '../../src/model/rig.js';
import { fakeSession } from './fake-session.js';
import { rig, shippedDesk } from './recipe-on.js';

const plansOn = (desk: Desk, on: Rig = rig) => {
  const plans = planInspection(on, desk);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  return plans.value.map(({ plan }) => plan);
};

/** Every address that is asked for when all of a rig is read. */
const readsOn = async (desk: Desk): Promise<{ reads: readonly string[]; writes: readonly unknown[] }> => {
  const { session, reads, writes } = fakeSession(new Map());
  await survey(plansOn(desk), desk, session, new AbortController().signal);
  return { reads, writes };
};

const outputsIn = (addresses: readonly string[]): ReadonlySet<string | undefined> =>
  new Set(addresses.map((address) => /^\/mix\/(\d+)\//.exec(address)?.[1]));

describe('what is read of a rig as it stands', () => {
  it('is every slot of every mix on an FM stereo link, and nothing is wanted there', async () => {
    const desk = await shippedDesk('log-179');
    const plans = plansOn(desk);
    expect(plans.map(({ name }) => name)).toEqual(['Heron', 'Lark']);
    expect(plans.map(({ slots }) => slots.map(({ slot }) => slot.id))).toEqual([
      ['1', '2', '3', '4'],
      ['1', '2', '3', '4'],
    ]);
    expect(plans.flatMap(({ slots }) => slots.map(({ wanted }) => wanted.size))).toEqual(Array(8).fill(0));
  });

  it('is asked for and never written', async () => {
    const { reads, writes } = await readsOn(await shippedDesk('log-179'));
    // Two names of Heron and one of Lark; two outputs of four slots with five parameters each.
    expect(reads).toHaveLength(3 + 2 * 4 * 5);
    expect(writes).toEqual([]);
  });

  it('is of one leg where both share their filters, of the other its name alone', async () => {
    const { reads } = await readsOn(await shippedDesk('log-179'));
    expect(reads.filter((address) => address.startsWith('/mix/2/'))).toEqual(['/mix/2/name']);
  });

  it('is of both legs where they are dialled one by one', async () => {
    const { reads } = await readsOn(await shippedDesk('two-legs'));
    expect(reads.filter((address) => address.startsWith('/mix/2/'))).toHaveLength(1 + 6 * 5);
  });

  it.each(['log-179', 'two-legs', 'floats'])(
    'is nothing of a wired or digital feed, not even a name: %s',
    async (id) => {
      const outputs = outputsIn((await readsOn(await shippedDesk(id))).reads);
      expect([...outputs].map(Number).sort()).toEqual([1, 2, 5]);
    },
  );

  it('does not address a wired feed beyond the desk either', async () => {
    const desk = await shippedDesk('log-179');
    const far: Rig = {
      ...rig,
      mixes: rig.mixes.map((mix) => (mix.name === 'Drums' ? { ...mix, outputs: [99] } : mix)),
    };
    expect(plansOn(desk, far).map(({ name }) => name)).toEqual(['Heron', 'Lark']);
  });

  it('is refused where a mix lies beyond the desk', async () => {
    const desk = await shippedDesk('log-179');
    const far: Rig = {
      ...rig,
      mixes: rig.mixes.map((mix) => (mix.name === 'Lark' ? { ...mix, outputs: [19] } : mix)),
    };
    const plans = planInspection(far, desk);
    expect(plans.ok ? [] : plans.error.map(({ code, path }) => [code, path])).toEqual([
      ['output-beyond-target', 'mixes[2].outputs'],
    ]);
  });

  it('is refused once, however many mixes there are, where OSC reaches nothing', async () => {
    const desk = await shippedDesk('log-179', ({ osc, ...target }) => target);
    const plans = planInspection(rig, desk);
    expect(plans.ok ? [] : plans.error.map(({ code }) => code)).toEqual(['osc-missing']);
  });
});
