import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readRig } from '../../src/documents/read.js';
import { shipped } from '../targets/shipped.js';

const text = readFileSync(new URL('../../src/cli/demo-rig.json', import.meta.url));
const read = readRig(text, { source: 'demo-rig.json' });
if (!read.ok) throw new Error(JSON.stringify(read.error));
const rig = read.value;
const systems = Object.values(rig.systems);

it('feeds systems that stand in it, each of them, from outputs of their own', () => {
  expect(new Set(rig.mixes.map(({ feeds }) => feeds))).toEqual(new Set(Object.keys(rig.systems)));
  const outputs = rig.mixes.flatMap((mix) => mix.outputs);
  expect(new Set(outputs).size).toBe(outputs.length);
});

it('shows the cases a show has: two analogue systems, one that does not tell its pre-emphasis, and others', () => {
  const analogue = systems.flatMap((system) => (system.link === 'fm-stereo' ? [system] : []));
  expect(analogue).toHaveLength(2);
  expect(new Set(analogue.map(({ audioHighHz }) => audioHighHz)).size).toBe(2);
  expect(
    analogue.filter(({ preEmphasisMicroseconds }) => preEmphasisMicroseconds === undefined),
  ).toHaveLength(1);
  expect(new Set(systems.map(({ link }) => link))).toEqual(new Set(['fm-stereo', 'digital', 'wired']));
  expect(rig.mixes.length).toBeGreaterThanOrEqual(8);
  expect(new Set(rig.mixes.map(({ outputs }) => outputs.length))).toEqual(new Set([1, 2]));
});

it("fits the demonstration's target: its outputs, and its slots where a mix may use some only", () => {
  const target = shipped.get('cut-section.json');
  const slots = target?.slots.map(({ id }) => id) ?? [];
  expect(Math.max(...rig.mixes.flatMap((mix) => mix.outputs))).toBeLessThanOrEqual(
    target?.outputs.count ?? 0,
  );
  const limited = rig.mixes.flatMap(({ freeSlots }) => (freeSlots ? [freeSlots] : []));
  expect(limited.length).toBeGreaterThan(1);
  for (const freeSlots of limited) expect(slots).toEqual(expect.arrayContaining([...freeSlots]));
});
