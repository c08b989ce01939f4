import { describe, expect, it } from 'vitest';
import {
  readDocument,
  readIntents,
  readJournal,
  readRecipe,
  readRig,
  readTarget,
} from '../../src/documents/read.js';
import { expectProblem, problemsIn, type SampleName, sampleText, spoilt } from './samples.js';

const cases: readonly {
  readonly of: SampleName;
  readonly changes: Readonly<Record<string, unknown>>;
  readonly code: string;
  readonly path: string;
  readonly says: string;
}[] = [
  {
    of: 'rig',
    changes: { 'systems.ears.audioHigh': 1 },
    code: 'unknown-key',
    path: 'systems.ears.audioHigh',
    says: 'did you mean "audioHighHz"?',
  },
  {
    of: 'rig',
    changes: { 'mixes.1.colour': 'red' },
    code: 'unknown-key',
    path: 'mixes[1].colour',
    says: 'Allowed: "name", "outputs", "feeds", "freeSlots".',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.feeds': undefined, 'mixes.0.feed': 'ears' },
    code: 'unknown-key',
    path: 'mixes[0].feed',
    says: 'did you mean "feeds"?',
  },
  {
    of: 'rig',
    changes: { 'systems.side-fill.pilotHz': 19000 },
    code: 'unknown-key',
    path: 'systems["side-fill"].pilotHz',
    says: 'Allowed: "link", "title", "audioLowHz", "audioHighHz".',
  },
  {
    of: 'rig',
    changes: { 'a key\n': 1 },
    code: 'unknown-key',
    path: '["a key\\n"]',
    says: '"a key\\u{a}"',
  },
  {
    of: 'rig',
    changes: { title: undefined },
    code: 'missing-key',
    path: 'title',
    says: '"title" is missing',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioLowHz': undefined },
    code: 'missing-key',
    path: 'systems.ears.audioLowHz',
    says: 'must be given',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.link': undefined },
    code: 'missing-key',
    path: 'systems.ears.link',
    says: '"link" is missing',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': '15k' },
    code: 'wrong-type',
    path: 'systems.ears.audioHighHz',
    says: '"15k" is text where a number belongs; write 15000 without quotes',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': '15000' },
    code: 'wrong-type',
    path: 'systems.ears.audioHighHz',
    says: 'write 15000 without quotes',
  },
  {
    of: 'rig',
    changes: { 'guard.keepLossAtMostDb': '1.5 dB' },
    code: 'wrong-type',
    path: 'guard.keepLossAtMostDb',
    says: 'write 1.5 without quotes',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': 'high' },
    code: 'wrong-type',
    path: 'systems.ears.audioHighHz',
    says: '"high" is text where a number belongs.',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': null },
    code: 'wrong-type',
    path: 'systems.ears.audioHighHz',
    says: 'Null stands where a number belongs',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs.1': 2.5 },
    code: 'wrong-type',
    path: 'mixes[0].outputs[1]',
    says: '2.5 is a number where a whole number belongs',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs': 3 },
    code: 'wrong-type',
    path: 'mixes[0].outputs',
    says: '3 is a number where a list belongs',
  },
  { of: 'rig', changes: { title: 7 }, code: 'wrong-type', path: 'title', says: 'write "7"' },
  {
    of: 'rig',
    changes: { systems: [] },
    code: 'wrong-type',
    path: 'systems',
    says: 'A list stands where an object belongs',
  },
  {
    of: 'rig',
    changes: { 'mixes.0': 'One' },
    code: 'wrong-type',
    path: 'mixes[0]',
    says: 'where an object belongs',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': 500000 },
    code: 'out-of-range',
    path: 'systems.ears.audioHighHz',
    says: 'allowed is above 0 up to 400000',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioLowHz': 0 },
    code: 'out-of-range',
    path: 'systems.ears.audioLowHz',
    says: '0 is out of range',
  },
  {
    of: 'rig',
    changes: { 'guard.windowHz': -1 },
    code: 'out-of-range',
    path: 'guard.windowHz',
    says: 'allowed is from 0 up to 1000',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs.0': 0 },
    code: 'out-of-range',
    path: 'mixes[0].outputs[0]',
    says: 'from 1 up to 1024',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.link': 'fm-sterio' },
    code: 'not-allowed',
    path: 'systems.ears.link',
    says: 'did you mean "fm-stereo"?',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.link': 5 },
    code: 'not-allowed',
    path: 'systems.ears.link',
    says: 'Allowed: "fm-stereo", "digital", "wired".',
  },
  {
    of: 'rig',
    changes: { leaveOut: ['pilot'] },
    code: 'not-allowed',
    path: 'leaveOut[0]',
    says: 'did you mean "pilot-cut"?',
  },
  {
    of: 'rig',
    changes: { 'intents.0.slopeDbPerOctave': 13 },
    code: 'not-allowed',
    path: 'intents[0].slopeDbPerOctave',
    says: 'Allowed: 6, 12, 18, 24, 30, 36, 42, 48.',
  },
  {
    of: 'rig',
    changes: { 'intents.0.slopeDbPerOctave': '12 dB/oct' },
    code: 'wrong-type',
    path: 'intents[0].slopeDbPerOctave',
    says: 'write 12 without quotes',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.name': '' },
    code: 'bad-text',
    path: 'mixes[0].name',
    says: 'This is empty',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.name': 'x'.repeat(201) },
    code: 'bad-text',
    path: 'mixes[0].name',
    says: 'at most 200 characters',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.name': 'a\u0007b' },
    code: 'bad-text',
    path: 'mixes[0].name',
    says: '"a\\u{7}b" does not fit',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.feeds': 'My Ears' },
    code: 'bad-text',
    path: 'mixes[0].feeds',
    says: 'The id of a system above',
  },
  {
    of: 'rig',
    changes: { 'systems.Big Ears': { link: 'wired' } },
    code: 'bad-name',
    path: 'systems["Big Ears"]',
    says: 'lower-case letters, digits and hyphens',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs': [] },
    code: 'wrong-count',
    path: 'mixes[0].outputs',
    says: 'There are 0 entries here; allowed are 1 to 2',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs': [1, 2, 4] },
    code: 'wrong-count',
    path: 'mixes[0].outputs',
    says: 'There are 3 entries',
  },
  {
    of: 'rig',
    changes: { systems: {} },
    code: 'wrong-count',
    path: 'systems',
    says: 'There are 0 entries here',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.outputs': [4, 4] },
    code: 'repeated-item',
    path: 'mixes[0].outputs',
    says: '4 stands more than once',
  },
  {
    of: 'rig',
    changes: { 'mixes.1.freeSlots': ['1', '2', '1'] },
    code: 'repeated-item',
    path: 'mixes[1].freeSlots',
    says: '"1" stands more than once',
  },
  {
    of: 'intents',
    changes: { 'intents.0.type': 'bell' },
    code: 'not-allowed',
    path: 'intents[0].type',
    says: 'did you mean "peaking"?',
  },
  {
    of: 'intents',
    changes: { 'intents.1.type': 'low cut' },
    code: 'not-allowed',
    path: 'intents[1].type',
    says: 'did you mean "highpass"?',
  },
  ...(
    [
      ['high cut', 'lowpass'],
      ['Hi-Cut', 'lowpass'],
      ['LPF', 'lowpass'],
      ['lo cut', 'highpass'],
      ['HPF', 'highpass'],
      ['parametric', 'peaking'],
      ['Low Shelf', 'lowshelf'],
      ['high shelving', 'highshelf'],
      ['band-pass', 'bandpass'],
      ['all pass', 'allpass'],
      ['Band stop', 'notch'],
    ] as const
  ).map(([word, type]) => ({
    of: 'intents' as const,
    changes: { 'intents.0.type': word },
    code: 'not-allowed',
    path: 'intents[0].type',
    says: `did you mean "${type}"?`,
  })),
  {
    of: 'intents',
    changes: { 'intents.1.family': 'butterwort' },
    code: 'not-allowed',
    path: 'intents[1].family',
    says: 'did you mean "butterworth"?',
  },
  {
    of: 'intents',
    changes: { 'intents.0.q': 'Q10' },
    code: 'wrong-type',
    path: 'intents[0].q',
    says: 'write 10 without quotes',
  },
  {
    of: 'intents',
    changes: { 'intents.0.Q': 1 },
    code: 'unknown-key',
    path: 'intents[0].Q',
    says: 'did you mean "q"?',
  },
  {
    of: 'intents',
    changes: { 'intents.2.shelfSlope': 2 },
    code: 'out-of-range',
    path: 'intents[2].shelfSlope',
    says: 'above 0 up to 1',
  },
  {
    of: 'target',
    changes: { 'quantisers.hertz.step': undefined },
    code: 'missing-key',
    path: 'quantisers.hertz.step',
    says: '"step" is missing',
  },
  {
    of: 'target',
    changes: { 'quantisers.hertz.stop': 1 },
    code: 'unknown-key',
    path: 'quantisers.hertz.stop',
    says: 'Allowed: "kind", "from", "to", "step".',
  },
  {
    of: 'target',
    changes: { 'quantisers.hertz.from': '20 Hz' },
    code: 'wrong-type',
    path: 'quantisers.hertz.from',
    says: 'write 20 without quotes',
  },
  {
    of: 'target',
    changes: { 'quantisers.hertz.kind': undefined },
    code: 'missing-key',
    path: 'quantisers.hertz.kind',
    says: '"kind" is missing',
  },
  {
    of: 'target',
    changes: { 'quantisers.mine': { kind: 'of-mine', 'bad name': 1 } },
    code: 'bad-name',
    path: 'quantisers.mine["bad name"]',
    says: 'beginning with a letter',
  },
  {
    of: 'target',
    changes: { 'quantisers.mine': { kind: 'of-mine', key: 1 } },
    code: 'bad-name',
    path: 'quantisers.mine.key',
    says: 'not `key`',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.bell': {} },
    code: 'unknown-key',
    path: 'slots[0].types.bell',
    says: 'is not a key that is known here; did you mean "peaking"?',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.bands': [] },
    code: 'unknown-key',
    path: 'mixes[0].bands',
    says: 'is not a key that is known here; an earlier version called "filters" that. Make a recipe again;',
  },
  {
    of: 'rig',
    changes: { bands: [] },
    code: 'unknown-key',
    path: 'bands',
    says: '"bands" is not a key that is known here. Allowed: "format", ',
  },
  {
    of: 'target',
    changes: { evidence: undefined },
    code: 'missing-key',
    path: 'evidence',
    says: 'Allowed: an object with "grid" ("untested", "tested", "known-bad"), "response" ("untested", ',
  },
  {
    of: 'target',
    changes: { 'evidence.push': undefined },
    code: 'missing-key',
    path: 'evidence.push',
    says: 'it must be given. Allowed: "untested", "tested", "known-bad".',
  },
  {
    of: 'target',
    changes: { 'osc.read': undefined },
    code: 'missing-key',
    path: 'osc.read',
    says: 'Allowed: "same-address-without-arguments", "none", or an object with "by" ("address", "argument").',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.peaking.gain': true },
    code: 'wrong-type',
    path: 'slots[0].types.peaking.gain',
    says: 'where text or a number belongs',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.peaking.frequency': '19k' },
    code: 'bad-text',
    path: 'slots[0].types.peaking.frequency',
    says: 'write 19000 without quotes',
  },
  {
    of: 'target',
    changes: { 'realisations.0.sampleRateHz': 44 },
    code: 'out-of-range',
    path: 'realisations[0].sampleRateHz',
    says: 'from 32000 up to 768000',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.type': 'out/{output}' },
    code: 'bad-text',
    path: 'osc.addresses.type',
    says: 'An OSC address',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.type': '/out/{mix}/{slot}' },
    code: 'bad-text',
    path: 'osc.addresses.type',
    says: '{output} and {slot}',
  },
  ...['/out,{output}/{slot}/t', '/out[1]/{output}/{slot}', '/{output}/{slot}/t?'].map((address) => ({
    of: 'target' as const,
    changes: { 'osc.addresses.type': address },
    code: 'bad-text',
    path: 'osc.addresses.type',
    says: 'none of # * , ? [ ] { }',
  })),
  ...[
    '/ask/{address}',
    '/ask{adress}',
    '/ask?{address}',
    '/ask',
    '/ask {address}',
    '/ask{address}/{slot}',
  ].map((address) => ({
    of: 'target' as const,
    changes: { 'osc.read': { by: 'address', address, answeredAt: 'asked-address' } },
    code: 'bad-text',
    path: 'osc.read.address',
    says: 'as in /ask{address} or {address}/ask',
  })),
  {
    of: 'target',
    changes: { 'osc.read': 'nothing' },
    code: 'not-allowed',
    path: 'osc.read',
    says: 'Allowed: "same-address-without-arguments", "none", or an object.',
  },
  {
    of: 'target',
    changes: { 'osc.read': 5 },
    code: 'wrong-type',
    path: 'osc.read',
    says: 'text or an object belongs.',
  },
  {
    of: 'target',
    changes: { 'osc.read': { by: 'arguments', argument: { type: 'N' } } },
    code: 'not-allowed',
    path: 'osc.read.by',
    says: 'did you mean "argument"?',
  },
  {
    of: 'target',
    changes: { 'osc.read': { by: 'address', address: '/ask{address}' } },
    code: 'missing-key',
    path: 'osc.read.answeredAt',
    says: '"answeredAt" is missing',
  },
  {
    of: 'target',
    changes: { 'osc.read': { by: 'argument', argument: { type: 'f' } } },
    code: 'not-allowed',
    path: 'osc.read.argument.type',
    says: 'Allowed: "s", "N", "I".',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.guard': 'none' },
    code: 'wrong-type',
    path: 'mixes[0].guard',
    says: 'where null or an object belongs',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.link': 'analog' },
    code: 'not-allowed',
    path: 'mixes[0].link',
    says: 'Allowed: "fm-stereo", "digital", "wired", null.',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.filters.0.steps.frequency.of': 0 },
    code: 'out-of-range',
    path: 'mixes[0].filters[0].steps.frequency.of',
    says: 'from 1',
  },
  {
    of: 'journal',
    changes: { startedAt: '25.11.2026 12:30' },
    code: 'bad-text',
    path: 'startedAt',
    says: 'as in 2026-11-25T12:30:00Z',
  },
  {
    of: 'journal',
    changes: { startedAt: '2026-11-25T12:30:00+01:00' },
    code: 'bad-text',
    path: 'startedAt',
    says: 'A time in UTC',
  },
  {
    of: 'journal',
    changes: { 'outcome.endedAt': '2026-13-01T00:00:00Z' },
    code: 'bad-text',
    path: 'outcome.endedAt',
    says: 'ISO 8601',
  },
  {
    of: 'journal',
    changes: { 'desk.host': 'desk\u001b[2J' },
    code: 'bad-text',
    path: 'desk.host',
    says: 'no control',
  },
  { of: 'journal', changes: { 'desk.port': 0 }, code: 'out-of-range', path: 'desk.port', says: 'from 1' },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.address': '/out/*/1/type' },
    code: 'bad-text',
    path: 'mixes[0].slots[0].found[0].address',
    says: 'The OSC address of one thing',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.parameter': 'fader' },
    code: 'not-allowed',
    path: 'mixes[0].slots[0].found[0].parameter',
    says: '"frequency"',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.argument': { type: 'b', text: 'x' } },
    code: 'not-allowed',
    path: 'mixes[0].slots[0].found[0].argument.type',
    says: '"f"',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.argument.number': '19000' },
    code: 'wrong-type',
    path: 'mixes[0].slots[0].found[1].argument.number',
    says: '19000',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.argument': { type: 's', text: 'a\u0000' } },
    code: 'bad-text',
    path: 'mixes[0].slots[0].found[0].argument.text',
    says: 'Text that XML can hold',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.display': 'Be\nll' },
    code: 'bad-text',
    path: 'mixes[0].slots[0].found[0].display',
    says: 'on one line',
  },
  {
    of: 'journal',
    changes: { 'outcome.result': 'lost' },
    code: 'not-allowed',
    path: 'outcome.result',
    says: 'desk-lost',
  },
  {
    of: 'journal',
    changes: { 'target.outputs.count': 0 },
    code: 'out-of-range',
    path: 'target.outputs.count',
    says: 'from 1',
  },
  {
    of: 'journal',
    changes: { 'target.format': 'bandwright-target/2' },
    code: 'not-allowed',
    path: 'target.format',
    says: 'bandwright-target/1',
  },
];

describe('what a schema finds', () => {
  it.each(cases)('$of $changes: $code', ({ of, changes, ...expected }) =>
    expectProblem(sampleText(of, changes), expected),
  );

  it('is told where it stands', async () => {
    const text = sampleText('rig', { 'mixes.1.feeds': 5 });
    const line = text.split('\n').findIndex((each) => each.includes('"feeds": 5')) + 1;
    await expectProblem(text, { code: 'wrong-type', path: 'mixes[1].feeds', says: '5', line, column: 7 });
  });

  it('is told one problem a mistake, in the order of the text', async () => {
    const text = sampleText('rig', {
      title: 5,
      'systems.ears.link': 'x',
      'guard.keepLowHz': '100 Hz',
      'mixes.0.outputs': [0],
      'mixes.1.feeds': undefined,
      'intents.0.colour': 1,
    });
    const problems = problemsIn(readRig(text, { source: 'x' }));
    expect(problems.map(({ path }) => path)).toEqual([
      'title',
      'systems.ears.link',
      'mixes[0].outputs[0]',
      'mixes[1].feeds',
      'intents[0].colour',
      'guard.keepLowHz',
    ]);
  });

  it('is told together with what the text alone shows, each once', async () => {
    const text =
      '{"format": "bandwright-intents/1", "title": "a", "title": 5, "intents": [{"role": "x", "type": "notch", "frequencyHz": 1e999, "q": 0}]}';
    const problems = problemsIn(readIntents(text, { source: 'x' }));
    expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual([
      'duplicate-key title',
      'number-too-large intents[0].frequencyHz',
      'out-of-range intents[0].q',
    ]);
  });

  it.each([
    ['"rackA" is text where a whole number belongs. So it is at 9 more places: ', ['rackA', 'rackA']],
    ['0 is out of range; allowed is from 1 up to 1024. So it is at 4 more places: ', [0]],
  ])('is told once with how often, however often the same stands wrong: %s', async (says, outputs) => {
    const mixes = Array.from({ length: 5 }, (_, index) => ({ name: `M${index}`, outputs, feeds: 'ears' }));
    const told = problemsIn(readRig(sampleText('rig', { mixes }), { source: 'x' }));
    expect(told).toMatchObject([{ path: 'mixes[0].outputs[0]', message: expect.stringContaining(says) }]);
    const places =
      outputs.length === 2
        ? 'mixes[0].outputs[1], mixes[1].outputs[0], mixes[1].outputs[1] and 6'
        : 'mixes[1].outputs[0], mixes[2].outputs[0], mixes[3].outputs[0] and 1';
    expect(told[0]?.message).toContain(`${says}${places} more.`);
  });

  it('is told once in XML too', async () => {
    const mix = (name: string): string => `<item name="${name}" feeds="ears" outputs="rackA"/>`;
    const text = `<rig format="bandwright-rig/1" title="S"><systems><entry key="ears" link="wired"/></systems><mixes>${mix('A')}${mix('B')}</mixes></rig>`;
    await expectProblem(text, {
      code: 'wrong-type',
      path: 'mixes[0].outputs[0]',
      says: '"rackA" is text where a whole number belongs. So it is at 1 more place: mixes[1].outputs[0].',
    });
  });

  it('is told as at least so often where not all of it was looked at', async () => {
    const mixes = Array.from({ length: 2000 }, () => 'x');
    const told = problemsIn(readRig(sampleText('rig', { mixes }), { source: 'x' }));
    expect(told.map(({ code }) => code)).toEqual(['wrong-count', 'wrong-type', 'more-problems']);
    expect(told[1]?.message).toMatch(/at \d+ more places at least: /);
  });

  it('is told a hundred times at most', async () => {
    const mixes = Array.from({ length: 400 }, (_, index) => index);
    const problems = problemsIn(readRig(sampleText('rig', { mixes }), { source: 'x' }));
    expect(problems).toHaveLength(101);
    expect(problems.at(-1)).toMatchObject({ code: 'more-problems', path: '' });
  });
});

describe('the format of a file', () => {
  const rigFormat = { code: 'wrong-format', path: 'format' };

  it.each([
    { changes: { format: 'bandwright-rig/2' }, says: 'another version of this format' },
    { changes: { format: 'bandwright-rigs/1' }, says: 'did you mean "bandwright-rig/1"?' },
    { changes: { format: 7 }, says: '7 is no format' },
  ])('$changes', ({ changes, says }) => expectProblem(sampleText('rig', changes), { ...rigFormat, says }));

  it('stands for everything that follows from it', async () => {
    const text = sampleText('rig', { format: undefined, mixes: 5 });
    await expectProblem(text, { code: 'missing-key', path: 'format', says: 'it tells what the file is' });
  });

  it('is the one asked for', async () => {
    const readers = {
      rig: readRig,
      intents: readIntents,
      target: readTarget,
      recipe: readRecipe,
      journal: readJournal,
    };
    for (const [name, read] of Object.entries(readers)) {
      for (const other of Object.keys(readers) as SampleName[]) {
        const outcome = await read(sampleText(other), { source: 'x' });
        const codes = problemsIn(outcome).map(({ code }) => code);
        expect([name, other, codes]).toEqual([name, other, name === other ? [] : ['wrong-format']]);
      }
    }
    const [problem] = problemsIn(readRig(sampleText('target'), { source: 'x' }));
    expect(problem?.message).toBe('This file is a target, but a rig belongs here.');
  });

  it('that is another document is told with what to do instead', async () => {
    const outcome = readRig(sampleText('recipe'), { source: 'x', instead: { recipe: 'Push it.' } });
    expect(problemsIn(outcome)).toMatchObject([
      { code: 'wrong-format', message: 'This file is a recipe, but a rig belongs here. Push it.', line: 2 },
    ]);
    const [other] = problemsIn(
      readRig(sampleText('target'), { source: 'x', instead: { recipe: 'Push it.' } }),
    );
    expect(other?.message).toBe('This file is a target, but a rig belongs here.');
  });

  it('tells any document what it is', async () => {
    for (const name of ['rig', 'intents', 'target', 'recipe', 'journal'] as const) {
      const outcome = readDocument(sampleText(name), { source: 'x' });
      expect(outcome).toEqual({ ok: true, value: spoilt(name, {}) });
    }
  });
});
