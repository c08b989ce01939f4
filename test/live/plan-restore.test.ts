import { expect, it } from 'vitest';
import { planRestore } from '../../src/live/plan/plan-restore.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { journal } from '../node/journals/journal.js';

/** What a push wrote before a target told its pairs is put back all the same: what was found was found. */
it.each([[[1, 16]], [[2, 1]]])(
  'puts back what was found of outputs %j, whatever is a pair',
  async (outputs) => {
    const kept = await journal({ 'mixes.0.outputs': outputs });
    const desk = makeDesk(kept.target);
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const plans = planRestore(kept, desk.value, 'as-written');
    if (!plans.ok) throw new Error(JSON.stringify(plans.error));
    const [mix] = plans.value;
    expect(mix?.outputs).toEqual(outputs);
    expect(mix?.slots.map(({ output }) => output)).toEqual([1]);
    expect([...(mix?.slots[0]?.wanted ?? [])].map(([name, { argument }]) => [name, argument])).toEqual([
      ['type', { type: 'i', value: 0 }],
      ['frequency', { type: 'f', value: 19000 }],
    ]);
  },
);
