import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import type { Target } from '../../../src/model/target.js';
import { canBeAsked } from '../../../src/osc/asking.js';
import type { Quantiser } from '../../../src/quantisers/quantiser.js';
import { makeQuantiser } from '../../../src/quantisers/registry.js';
import type { StandinEvent } from '../../../src/standin/events.js';
import type { StandinState } from '../../../src/standin/snapshot.js';
import { step } from '../../../src/units/quantity.js';
import { blankDraft, knobOf } from '../../live/learn/blank-draft.js';
import { shipped } from '../../targets/shipped.js';
import { inFolder } from '../run.js';
import { type LearnTold, learnTold } from './learn-told.js';
import { type Rehearsal, type RehearsalOptions, rehearse } from './rehearsal.js';

/*
 * The program learns from a stand-in of every shipped target, by a draft that has none of its grids. What it finds is held
 * against the target's own file, what it sends against what arrives.
 */

const output = 3;

const grid = (spec: unknown): Quantiser => {
  const made = makeQuantiser(spec as never);
  if (!made.ok) throw new Error(made.error);
  return made.value;
};

/** Every value of a grid; of one of millions a thousand, spread evenly, and both ends. */
const valuesOf = ({ count, valueAt }: Quantiser): readonly number[] =>
  Array.from({ length: Math.min(count, 25_000) }, (_, index) =>
    valueAt(step(Math.round((index * (count - 1)) / Math.max(1, Math.min(count, 25_000) - 1)))),
  );

/** What a plain sweep of one output would take: every value of every knob under every type, written once and read once. */
const sweepOf = ({ slots, quantisers, osc }: Target): number =>
  2 *
  slots
    .flatMap(({ types }) => Object.values(types))
    .flatMap((type) => Object.entries(type))
    .filter(
      ([knob, name]) => typeof name === 'string' && name in quantisers && knob in (osc?.addresses ?? {}),
    )
    .reduce((sum, [, name]) => sum + grid(quantisers[name as string]).count, 0);

/** Every write that raised the gain of a section that was on, as a stand-in met it. */
const risesIn = (events: readonly StandinEvent[], { filters }: StandinState): readonly string[] => {
  const state = new Map<string, { on: boolean; gain: number }>();
  for (const { outputs, slots } of filters)
    for (const slot of slots)
      for (const each of outputs)
        state.set(`${each} ${slot.id}`, { on: slot.on, gain: slot.knobs.gain?.index ?? 0 });
  return events.flatMap((event) => {
    if (event.event !== 'write') return [];
    const risen: string[] = [];
    for (const each of event.outputs) {
      const slot = state.get(`${each} ${event.slot}`);
      if (!slot) throw new Error(`there is no slot ${event.slot}`);
      if (event.parameter === 'on') slot.on = event.index === 1;
      if (event.parameter !== 'gain') continue;
      if (slot.on && event.index > slot.gain) risen.push(`${event.address} to ${event.display}`);
      slot.gain = event.index;
    }
    return risen;
  });
};

interface Learning {
  readonly rehearsal: Rehearsal;
  readonly told: LearnTold;
  readonly exitCode: number | null;
  readonly before: string;
  readonly learned: Target;
}

const learnFrom = async (
  folder: string,
  options: RehearsalOptions,
  flags: readonly string[] = [],
): Promise<Learning> => {
  const rehearsal = await rehearse(folder, options);
  const [draft, file] = [join(folder, 'draft.json'), join(folder, 'learned.json')];
  await writeFile(draft, writeJson(blankDraft(rehearsal.desk.target)));
  const start = rehearsal.snapshot();
  const args = ['--target', draft, '--output', String(output), '--yes', '--json', '--output-file', file];
  const run = await rehearsal.command('learn', [...args, '--rate', '20000', ...flags]);
  const told = learnTold(run);
  const learned = JSON.parse(await readFile(file, 'utf8')) as Target;
  expect(risesIn(rehearsal.events, start)).toEqual([]);
  return { rehearsal, told, exitCode: run.exitCode, before: JSON.stringify(start), learned };
};

/** Everything in which what was learned of a desk is not what its target says. */
const wrong = ({ quantisers, osc }: Target, { told, learned }: Learning, target: Target): readonly string[] =>
  Object.entries(quantisers).flatMap(([name, spec]) => {
    const found = told.grids.find((each) => each.name === name);
    if (!found) return [`${name} was not learned`];
    const real = grid(spec);
    if (found.open !== null || found.count !== real.count)
      return [`${name}: ${found.count} of ${real.count} steps, ${found.open}`];
    const as = osc?.encodings[knobOf(target, name)]?.as;
    if (as === 'index' || as === 'fraction') {
      // The draft keeps its own: nothing of the values was told.
      const kept =
        JSON.stringify(learned.quantisers[name]) === JSON.stringify(blankDraft(target).quantisers[name]);
      return found.tells === 'steps' && kept ? [] : [`${name} is said to tell values`];
    }
    const values = valuesOf(grid(learned.quantisers[name]));
    return valuesOf(real).every((value, index) => values[index] === value)
      ? []
      : [`${name} has other values`];
  });

const askable = [...shipped.values()].filter((target) => target.osc && canBeAsked(target));

const transportOf = (target: Target) => target.osc?.transports[0]?.kind ?? 'udp';

describe('learning live', () => {
  it.concurrent.each(askable.map((target) => [target.id, target] as const))(
    'recovers %s exactly, with a tenth of the messages of a sweep at most, and leaves all as it was',
    async (id, target) => {
      await inFolder(async (folder) => {
        // A machine that is busy is no reason to ask twice.
        const patient = ['--timeout', '5000'];
        const options = { target: id, kind: transportOf(target), seed: 11 };
        const learning = await learnFrom(folder, options, patient);
        const { rehearsal, told, exitCode, before, learned } = learning;
        try {
          expect(wrong(target, learning, target)).toEqual([]);
          expect([told.result, told.mix?.state, exitCode]).toEqual(['done', 'put-back', 0]);
          expect(JSON.stringify(rehearsal.snapshot())).toBe(before);
          expect(told.messages.sent).toBe(rehearsal.events.length);
          // What only reads the other leg, before and after, learns nothing: no sweep would do it.
          const { sent, besides } = told.messages;
          expect(sent - besides).toBeLessThanOrEqual(sweepOf(target) / 10);
          expect(told.messages.sweep).toBe(sweepOf(target));
          const written = rehearsal.events.flatMap((event) =>
            event.event === 'write' ? [event.output] : [],
          );
          expect([...new Set(written)]).toEqual([output]);
          const tells = told.grids.every((each) => each.tells === 'values');
          expect(learned.evidence.grid).toBe(tells ? 'tested' : target.evidence.grid);
          // On every shipped target whose pairs share, 3 and 4 are one.
          const shares = target.outputs.stereo === 'legs-share';
          expect(told.partner).toEqual(shares ? { output: 4, goesAlong: 'yes' } : null);
        } finally {
          await rehearsal.close();
        }
      });
    },
  );

  const byUdp = askable.filter((target) => target.osc?.transports.some(({ kind }) => kind === 'udp'));

  it.concurrent.each(byUdp.map((target) => [target.id, target] as const))(
    'recovers %s where one message in ten is lost',
    async (id, target) => {
      await inFolder(async (folder) => {
        const options = { target: id, faults: ['loss=10%'], seed: 23 };
        const learning = await learnFrom(folder, options, ['--timeout', '60', '--retries', '12']);
        const { rehearsal, told, before } = learning;
        try {
          expect(wrong(target, learning, target)).toEqual([]);
          expect([told.result, JSON.stringify(rehearsal.snapshot())]).toEqual(['done', before]);
        } finally {
          await rehearsal.close();
        }
      });
    },
  );
});
