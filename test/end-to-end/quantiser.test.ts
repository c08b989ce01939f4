import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { changed, rigJson, targetJson } from './bad-input/samples.js';
import { runLoaded, scratchFolder } from './run.js';

/** A kind of one's own: n equal steps to the octave, up from a frequency. */
const module = `
const create = ({ from, steps, count }) => {
  if (!(from > 0)) return { ok: false, error: '"from" must be above 0.' };
  const valueAt = (step) => {
    if (!Number.isInteger(step) || step < 0 || step >= count) throw new RangeError('no such step');
    return from * 2 ** (step / steps);
  };
  return { ok: true, value: { count, valueAt } };
};
export default { kind: 'equal-steps', summary: 'so many equal steps to the octave', create };
`;

const target = changed(
  targetJson,
  '"kind": "geometric", "from": 20, "to": 20000, "count": 121',
  '"kind": "equal-steps", "from": 27.5, "steps": 12, "count": 114',
);

const folderWith = async (desk: string): Promise<string> => {
  const cwd = await scratchFolder();
  await writeFile(join(cwd, 'show.json'), rigJson);
  await writeFile(join(cwd, 'desk.json'), desk);
  await writeFile(join(cwd, 'steps.mjs'), module);
  return cwd;
};

const own = ['--quantiser', './steps.mjs'];

describe('a kind of grid from a module of one’s own', () => {
  it('is what a recipe is fitted on', async () => {
    const cwd = await folderWith(target);
    const { stdout, stderr } = await runLoaded(
      ['recipe', 'show.json', '--target', './desk.json', ...own, '--json'],
      { cwd },
    );
    expect(stderr).not.toContain('[');
    const recipe = JSON.parse(stdout.toString()) as {
      mixes: { filters: { role: string; set: { frequencyHz: number }; steps: { frequency: object } }[] }[];
    };
    // Twelve equal steps to the octave from A0, 27.5 Hz (ISO 16: A4 is 440 Hz): 40, 15000 and 19000 Hz lie
    // 6.49, 109.09 and 113.18 of them up.
    const steps = recipe.mixes[0]?.filters.map(({ role, steps }) => [role, steps.frequency]);
    expect(Object.fromEntries(steps ?? [])).toMatchObject({
      'low-cut': { index: 6, of: 114, fromBottom: 6, fromTop: 107 },
      'high-cut': { index: 109, of: 114, fromBottom: 109, fromTop: 4 },
      'pilot-cut': { index: 113, of: 114, fromBottom: 113, fromTop: 0 },
    });
    const pilot = recipe.mixes[0]?.filters.find(({ role }) => role === 'pilot-cut');
    expect(pilot?.set.frequencyHz).toBeCloseTo(440 * 2 ** (65 / 12), 6);
  });

  it.each([
    [['check', '--target', './desk.json']],
    [['targets', 'show', './desk.json']],
    [['targets', 'lint', './desk.json']],
  ])('is known to %s', async (args) => {
    const cwd = await folderWith(target);
    const known = await runLoaded([...args, ...own], { cwd });
    expect([known.exitCode, known.stderr]).toEqual([0, '']);
    const unknown = await runLoaded(args, { cwd });
    expect(unknown.stderr.replace(/\s+/g, ' ')).toContain('"equal-steps" is not a kind of grid known here');
    expect(unknown.exitCode).toBe(3);
  });

  it('may refuse a target, in its own words', async () => {
    const cwd = await folderWith(changed(target, '"from": 27.5', '"from": 0'));
    const { exitCode, stderr } = await runLoaded(['targets', 'lint', './desk.json', ...own], { cwd });
    expect(stderr.replace(/\s+/g, ' ')).toContain('quantisers.frequency: "from" must be above 0.');
    expect(exitCode).toBe(3);
  });
});
