import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fixture, projectRoot, runLoaded, scratchFolder } from './run.js';

const shipped = JSON.parse(await readFile(join(projectRoot, 'targets/log-179.json'), 'utf8'));

const lint = async (osc: object, change: object = {}) => {
  const cwd = await scratchFolder();
  const target = { ...shipped, ...change, osc: { ...shipped.osc, ...osc } };
  await writeFile(join(cwd, 'our-desk.json'), JSON.stringify(target));
  const { exitCode, stdout, stderr } = await runLoaded(['targets', 'lint', './our-desk.json'], { cwd });
  return { exitCode, stdout: stdout.toString(), stderr: stderr.replace(/\s+/g, ' ') };
};

const asked = (address: string, addresses: object = {}) => ({
  read: {
    by: 'address',
    address,
    addresses: { gain: '/g/{output}/{slot}', ...addresses },
    answeredAt: 'asked-address',
  },
});

describe('targets lint, on how a desk is asked', () => {
  it.each<[string, object, RegExp]>([
    ['a placeholder nobody knows', asked('/ask{adress}'), /"\/ask\{adress\}" does not fit/],
    [
      'another one',
      asked('/ask{address}', { q: '/q/{mix}/{slot}' }),
      /"\/q\/\{mix\}\/\{slot\}" does not fit/,
    ],
    ['what OSC expands', asked('/ask*{address}'), /none of # \* , \? \[ \] \{ \}/],
    ['a space', asked('/ask now{address}'), /hold no space/],
    ['an empty part', asked('/ask/{address}'), /brings its own/],
    [
      'where another value is written',
      asked('/ask{address}', { gain: '/mix/{output}/filter/{slot}/q' }),
      /would ask for gain at an address of q/,
    ],
    [
      'where another value is written, of other numbers only',
      asked('/ask{address}', { gain: '/mix/{slot}/filter/{output}/q' }),
      /comes to "\/mix\/1\/filter\/1\/q" for gain of output 1, slot 1, which is the address of q of output 1, slot 1 already/,
    ],
    ['one address for all slots', asked('/ask{address}', { gain: '/g/{output}' }), /holds no \{slot\}/],
    [
      'nothing for some',
      { read: { by: 'address', addresses: {}, answeredAt: 'asked-address' } },
      /There are 0 entries here/,
    ],
    [
      'a number in place of a text',
      { read: { by: 'argument', argument: { type: 'f' } } },
      /Allowed: "s", "N", "I"/,
    ],
    [
      'a text that could be a value',
      {
        encodings: { ...shipped.osc.encodings, gain: { as: 'engineering', type: 's' } },
        read: { by: 'argument', argument: { type: 's', text: '0' } },
      },
      /"0" could be a value of gain/,
    ],
  ])('refuses %s', async (_, osc, says) => {
    const { exitCode, stdout, stderr } = await lint(osc);
    expect(stderr).toMatch(says);
    expect(stdout).toMatch(/^\.\/our-desk\.json: \d+ wrong\n$/);
    expect(exitCode).toBe(3);
  });

  // By hand: 1 and 3 make 13, and so do nothing and 13.
  const meeting = { on: '/f/1{output}/{slot}/v', type: '/f/{output}/{slot}/v' };

  it('refuses addresses of two outputs that meet, and so do a recipe and a push', async () => {
    const addresses = { ...shipped.osc.addresses, ...meeting };
    const { exitCode, stderr } = await lint({ addresses });
    expect(stderr).toMatch(
      /comes to "\/f\/11\/1\/v" for type of output 11, slot 1, which is the address of on of/,
    );
    expect(exitCode).toBe(3);
    const cwd = await scratchFolder();
    const desk = ['--target', './desk.json'];
    await writeFile(
      join(cwd, 'desk.json'),
      JSON.stringify({ ...shipped, osc: { ...shipped.osc, addresses } }),
    );
    const rig = fixture('rig-small.json');
    const made = await runLoaded(['recipe', rig, '--target', 'log-179', '--json'], { cwd });
    await writeFile(join(cwd, 'recipe.json'), made.stdout);
    for (const args of [
      ['recipe', rig, ...desk],
      ['push', 'recipe.json', ...desk, '--to', '127.0.0.1:9', '--yes'],
    ]) {
      const refused = await runLoaded(args, { cwd });
      expect(refused.stderr).toContain('osc-addresses-apart');
      expect(refused.exitCode).toBe(3);
    }
  });

  it.each<[string, object, RegExp]>([
    [
      'a whole number that cannot carry every step',
      { encodings: { ...shipped.osc.encodings, q: { as: 'engineering', type: 'i' } } },
      /q of slot 1: .*whole/,
    ],
    [
      'types that nothing chooses between',
      {
        addresses: { ...shipped.osc.addresses, type: undefined },
        encodings: { ...shipped.osc.encodings, type: undefined },
      },
      /OSC does not reach type, which slot 1 needs set/,
    ],
    [
      'a knob that nothing reaches',
      {
        addresses: { ...shipped.osc.addresses, gain: undefined },
        encodings: { ...shipped.osc.encodings, gain: undefined },
      },
      /OSC does not reach gain, which slot 1 needs set/,
    ],
  ])('refuses what a push would refuse: %s', async (_, osc, says) => {
    const { exitCode, stderr } = await lint(osc);
    expect(stderr).toMatch(says);
    expect(exitCode).toBe(3);
  });

  it('refuses what only shows once addresses are written out: a slot that cannot be padded', async () => {
    const padded = { ...shipped.osc.addresses, q: '/mix/{output}/filter/{slot:02}/q' };
    const slots = [...shipped.slots, { ...shipped.slots[0], id: 'low' }];
    const { exitCode, stderr } = await lint({ addresses: padded }, { slots });
    expect(stderr).toMatch(/pads \{slot:02\} with zeros, and "low" is no number/);
    expect(exitCode).toBe(3);
  });

  it.each<[string, object]>([
    ['the same address', { read: 'same-address-without-arguments' }],
    ['none', { read: 'none' }],
    ['an address before', asked('/ask{address}')],
    ['an address behind', asked('{address}/now')],
    ['a text', { read: { by: 'argument', argument: { type: 's', text: '?' } } }],
    ['an impulse', { read: { by: 'argument', argument: { type: 'I' } } }],
  ])('takes %s', async (_, osc) => {
    expect(await lint(osc)).toEqual({ exitCode: 0, stdout: './our-desk.json: good\n', stderr: '' });
  });
});
