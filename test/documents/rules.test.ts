import { describe, expect, it } from 'vitest';
import { readTarget } from '../../src/documents/read.js';
import { intentsRules } from '../../src/documents/rules/intents.js';
import { journalRules } from '../../src/documents/rules/journal/journal.js';
import { recipeRules } from '../../src/documents/rules/recipe.js';
import { rigRules, usualKeepBandHz } from '../../src/documents/rules/rig/rig.js';
import { targetNotices, targetRules } from '../../src/documents/rules/target/target.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import type { Target } from '../../src/model/target.js';
import { hz } from '../../src/units/quantity.js';
import { expectProblem, type SampleName, sampleText } from './samples.js';

const pilotCut = { role: 'pilot-cut', type: 'notch', frequencyHz: 19000, q: 20 };
const bell = { role: 'a', type: 'peaking', frequencyHz: 400, q: 2, gainDb: -3 };
const cut = { role: 'a', type: 'lowpass', frequencyHz: 15000 };
const shelf = { role: 'a', type: 'lowshelf', frequencyHz: 80, gainDb: -3 };

const typeFound = { parameter: 'type', address: '', argument: { type: 'i', number: 0 }, display: null };
const asInt64 = { 'target.osc.encodings.type.type': 'h' };

interface RuleCase {
  readonly of: SampleName;
  readonly changes: Readonly<Record<string, unknown>>;
  readonly code: string;
  readonly path: string;
  readonly says: string;
}

const documentCases: readonly RuleCase[] = [
  {
    of: 'recipe',
    changes: { 'mixes.1.name': 'One' },
    code: 'unique-mix-names',
    path: 'mixes[1].name',
    says: 'mixes[0] is called "One" already',
  },
  {
    of: 'rig',
    changes: { 'mixes.1.name': 'One' },
    code: 'unique-mix-names',
    path: 'mixes[1].name',
    says: 'mixes[0] is called "One" already',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.feeds': 'eras' },
    code: 'feeds-a-system',
    path: 'mixes[0].feeds',
    says: 'did you mean "ears"?',
  },
  {
    of: 'rig',
    changes: { 'mixes.0.feeds': 'nothing-near' },
    code: 'feeds-a-system',
    path: 'mixes[0].feeds',
    says: 'There are: "ears", "side-fill".',
  },
  {
    of: 'rig',
    changes: { 'mixes.1.outputs': [4, 2] },
    code: 'outputs-of-one-mix',
    path: 'mixes[1].outputs[1]',
    says: 'Output 2 is taken by mixes[0] "One" already',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioLowHz': 15000 },
    code: 'link-limits',
    path: 'systems.ears.audioLowHz',
    says: 'between 5 and 300 Hz, not at 15000 Hz',
  },
  {
    of: 'rig',
    changes: { 'systems.side-fill.audioLowHz': 200, 'systems.side-fill.audioHighHz': 100 },
    code: 'audio-band',
    path: 'systems["side-fill"].audioLowHz',
    says: 'from 200 Hz to 100 Hz',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': 16000, 'systems.ears.pilotHz': 16000 },
    code: 'pilot-above-audio',
    path: 'systems.ears.pilotHz',
    says: 'The pilot at 16000 Hz must lie above the audio',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.audioHighHz': 20000 },
    code: 'link-limits',
    path: 'systems.ears.audioHighHz',
    says: 'between 8000 and 18000 Hz, not at 20000 Hz',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.preEmphasisMicroseconds': 0.05 },
    code: 'pre-emphasis-in-microseconds',
    path: 'systems.ears.preEmphasisMicroseconds',
    says: 'that is 50 microseconds in milliseconds: write 50',
  },
  {
    of: 'rig',
    changes: { leaveOut: ['high-cut', 'low-cut'] },
    code: 'leave-out-or-ask',
    path: 'leaveOut[1]',
    says: 'asked for by intents[0]',
  },
  {
    of: 'rig',
    changes: { 'guard.keepHighHz': 100 },
    code: 'keep-band',
    path: 'guard.keepLowHz',
    says: 'from 100 Hz to 100 Hz',
  },
  {
    of: 'rig',
    changes: { guard: { keepHighHz: 60 } },
    code: 'keep-band',
    path: 'guard.keepHighHz',
    says: 'which are 80 and 12000 where not given',
  },
  {
    of: 'rig',
    changes: { guard: { keepLossAtMostDb: 1, keepLossToReachDb: 3 } },
    code: 'one-loss-limit',
    path: 'guard.keepLossToReachDb',
    says: 'is a hard limit',
  },
  {
    of: 'rig',
    changes: { 'systems.ears.encoderLowpassHz': 15000 },
    code: 'encoder-lowpass',
    path: 'systems.ears.encoderLowpassHz',
    says: 'says nothing without encoderLowpassDbPerOctave',
  },
  {
    of: 'rig',
    changes: {
      'systems.ears.encoderLowpassHz': 12000,
      'systems.ears.encoderLowpassDbPerOctave': 48,
    },
    code: 'encoder-lowpass',
    path: 'systems.ears.encoderLowpassHz',
    says: 'would take away audio',
  },
  {
    of: 'intents',
    changes: { 'intents.0': { ...bell, mayMove: true } },
    code: 'may-move',
    path: 'intents[0].mayMove',
    says: 'is never moved',
  },
  {
    of: 'target',
    changes: { 'realisations.0.design': 'matched', 'realisations.0.bandwidthMeaning': 'analogue' },
    code: 'bandwidth-meaning',
    path: 'realisations[0].bandwidthMeaning',
    says: 'is for the design cookbook',
  },
  {
    of: 'rig',
    changes: { guard: { keepLowHz: 13000 } },
    code: 'keep-band',
    path: 'guard.keepLowHz',
    says: 'from 13000 Hz to 12000 Hz',
  },
  {
    of: 'rig',
    changes: { intents: [pilotCut, { ...bell, role: 'pilot-cut' }] },
    code: 'unique-roles',
    path: 'intents[1].role',
    says: 'is that of intents[0] already',
  },
  {
    of: 'rig',
    changes: { 'intents.0.type': 'lowpass' },
    code: 'role-fits-type',
    path: 'intents[0].type',
    says: 'given to a lowpass, in words a high cut',
  },
  {
    of: 'rig',
    changes: { intents: [{ ...pilotCut, q: undefined }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'tells no width',
  },

  {
    of: 'intents',
    changes: { intents: [bell, bell] },
    code: 'unique-roles',
    path: 'intents[1].role',
    says: '"a"',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...cut, role: 'low-cut', q: 1 }] },
    code: 'role-fits-type',
    path: 'intents[0].type',
    says: 'allowed are highpass, lowshelf',
  },
  {
    of: 'intents',
    changes: { intents: [cut] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'give exactly one: slopeDbPerOctave or q',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...cut, q: 1, slopeDbPerOctave: 12 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'by q and slopeDbPerOctave',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...cut, bandwidthOctaves: 1 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'by bandwidthOctaves',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...bell, bandwidthOctaves: 1 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'q or bandwidthOctaves',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...bell, q: undefined, slopeDbPerOctave: 12 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'This bell',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...bell, q: undefined, shelfSlope: 1 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'by shelfSlope',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...shelf, bandwidthOctaves: 1 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'give at most one: q or shelfSlope',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...shelf, q: 1, shelfSlope: 1 }] },
    code: 'one-width-form',
    path: 'intents[0]',
    says: 'by q and shelfSlope',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...bell, gainDb: undefined }] },
    code: 'gain-where-it-acts',
    path: 'intents[0].gainDb',
    says: 'A bell needs a gain',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...shelf, gainDb: undefined }] },
    code: 'gain-where-it-acts',
    path: 'intents[0].gainDb',
    says: 'A low shelf needs a gain',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...pilotCut, gainDb: -15 }] },
    code: 'gain-where-it-acts',
    path: 'intents[0].gainDb',
    says: '-15 dB would be dropped',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...cut, q: 1, gainDb: 0 }] },
    code: 'gain-where-it-acts',
    path: 'intents[0].gainDb',
    says: 'A high cut has no gain',
  },
  {
    of: 'intents',
    changes: { intents: [{ ...cut, q: 1, family: 'butterworth' }] },
    code: 'family-beside-slope',
    path: 'intents[0].family',
    says: 'goes with slopeDbPerOctave only',
  },
  ...[6, 18, 30, 42].map((slope) => ({
    of: 'intents' as const,
    changes: { intents: [{ ...cut, slopeDbPerOctave: slope, family: 'linkwitz-riley' }] },
    code: 'linkwitz-riley-slope',
    path: 'intents[0].slopeDbPerOctave',
    says: `No Linkwitz-Riley cut has ${slope} dB per octave; allowed are 12, 24, 36, 48.`,
  })),

  {
    of: 'target',
    changes: { 'outputs.stereo': 'legs-separate', 'outputs.pairs': 'any' },
    code: 'output-pairs',
    path: 'outputs.pairs',
    says: 'take pairs out, or write "legs-share"',
  },
  {
    of: 'target',
    changes: { 'outputs.pairs': ['1/2', '3/3'] },
    code: 'output-pairs',
    path: 'outputs.pairs[1]',
    says: '"3/3" is one output',
  },
  {
    of: 'target',
    changes: { 'outputs.pairs': ['1/2', '17/3'] },
    code: 'output-pairs',
    path: 'outputs.pairs[1]',
    says: 'Output 17 is beyond the 16 there are',
  },
  {
    of: 'target',
    changes: { 'outputs.pairs': ['1/2', '3/4', '5/2'] },
    code: 'output-pairs',
    path: 'outputs.pairs[2]',
    says: 'Output 2 is of outputs.pairs[0] already',
  },
  {
    of: 'target',
    changes: { 'slots.1.id': '1' },
    code: 'unique-slot-ids',
    path: 'slots[1].id',
    says: 'that of slots[0] already',
  },
  {
    of: 'target',
    changes: { 'realisations.1.id': 'digital' },
    code: 'unique-realisation-ids',
    path: 'realisations[1].id',
    says: '"digital"',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.peaking.frequency': 'herz' },
    code: 'grids-exist',
    path: 'slots[0].types.peaking.frequency',
    says: 'did you mean "hertz"?',
  },
  {
    of: 'target',
    changes: { 'slots.1.types.notch.q': 'constructor' },
    code: 'grids-exist',
    path: 'slots[1].types.notch.q',
    says: 'There are: "hertz"',
  },
  {
    of: 'target',
    changes: { 'quantisers.hertz': { kind: 'table', values: '12 dB/oct, 18 dB/oct' } },
    code: 'units-fit-knobs',
    path: 'slots[0].types.peaking.frequency',
    says: 'The table "hertz" holds slopes, as "12dB/oct" tells, and this knob turns frequencies',
  },
  {
    of: 'target',
    changes: { 'quantisers.slopes.values': '12 24 dB' },
    code: 'units-fit-knobs',
    path: 'slots[0].types.lowpass.slope',
    says: 'holds gains, as "24dB" tells, and this knob turns slopes',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.lowpass.slope': undefined, 'slots.0.types.lowpass.family': undefined },
    code: 'knobs-fit-type',
    path: 'slots[0].types.lowpass',
    says: 'has no knob for its width; give exactly one: slope or q',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.lowpass.q': 0.7 },
    code: 'knobs-fit-type',
    path: 'slots[0].types.lowpass',
    says: 'has q and slope',
  },
  {
    of: 'target',
    changes: { 'slots.1.types.notch.q': undefined },
    code: 'knobs-fit-type',
    path: 'slots[1].types.notch',
    says: 'q or bandwidth',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.peaking.bandwidth': 1 },
    code: 'knobs-fit-type',
    path: 'slots[0].types.peaking',
    says: 'has q and bandwidth',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.peaking.gain': undefined },
    code: 'knobs-fit-type',
    path: 'slots[0].types.peaking.gain',
    says: 'A bell needs a gain knob',
  },
  {
    of: 'target',
    changes: { 'slots.1.types.notch.gain': 'gains' },
    code: 'knobs-fit-type',
    path: 'slots[1].types.notch.gain',
    says: 'A notch has no gain',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.lowpass.gain': 0 },
    code: 'knobs-fit-type',
    path: 'slots[0].types.lowpass.gain',
    says: 'A high cut has no gain',
  },
  {
    of: 'target',
    changes: {
      'slots.1.types.highshelf': { frequency: 'hertz' },
      'osc.encodings.type.order': ['peaking', 'lowpass', 'notch', 'highshelf'],
    },
    code: 'knobs-fit-type',
    path: 'slots[1].types.highshelf.gain',
    says: 'A high shelf needs a gain knob',
  },
  {
    of: 'target',
    changes: { 'slots.1.types.notch.family': 'butterworth' },
    code: 'slot-family',
    path: 'slots[1].types.notch.family',
    says: 'goes with a slope knob only',
  },
  {
    of: 'target',
    changes: { 'slots.0.types.lowpass.slope': 18 },
    code: 'slot-family',
    path: 'slots[0].types.lowpass.slope',
    says: 'No Linkwitz-Riley cut has 18',
  },
  {
    of: 'target',
    changes: { 'realisations.0.sampleRateHz': null },
    code: 'sample-rate',
    path: 'realisations[0].sampleRateHz',
    says: 'give it in Hz',
  },
  {
    of: 'target',
    changes: { 'realisations.1.sampleRateHz': 48000 },
    code: 'sample-rate',
    path: 'realisations[1].sampleRateHz',
    says: 'write null',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.frequency': undefined },
    code: 'osc-pairs',
    path: 'osc.encodings.frequency',
    says: 'An encoding is missing',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.frequency': undefined },
    code: 'osc-pairs',
    path: 'osc.addresses.frequency',
    says: 'An address is missing',
  },
  {
    of: 'target',
    changes: {
      'osc.addresses.bandwidth': '/{output}/{slot}/bw',
      'osc.encodings.bandwidth': { as: 'index', type: 'i' },
    },
    code: 'osc-reaches-knobs',
    path: 'osc.addresses.bandwidth',
    says: 'No slot has a bandwidth knob',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.frequency': { as: 'text', type: 'f' } },
    code: 'osc-encodings',
    path: 'osc.encodings.frequency',
    says: 'OSC type "s"',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.frequency': { as: 'fraction', type: 'i' } },
    code: 'osc-encodings',
    path: 'osc.encodings.frequency',
    says: 'is lost in the whole number',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.type': { as: 'engineering', type: 'f' } },
    code: 'osc-encodings',
    path: 'osc.encodings.type',
    says: 'no value in Hz or dB',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.type.order': undefined },
    code: 'osc-type-order',
    path: 'osc.encodings.type.order',
    says: 'must be given',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.type.order': ['peaking', 'lowpass'] },
    code: 'osc-type-order',
    path: 'osc.encodings.type.order',
    says: 'Slots offer notch',
  },
  {
    of: 'target',
    changes: { 'slots.0.typeOrder': ['lowpass', 'notch'] },
    code: 'slot-type-order',
    path: 'slots[0].typeOrder',
    says: 'The slot offers peaking, which this order does not hold',
  },
  {
    of: 'target',
    changes: {
      'slots.0.typeOrder': ['lowpass', 'peaking'],
      'osc.encodings.type': { as: 'text', type: 's' },
    },
    code: 'slot-type-order',
    path: 'slots[0].typeOrder',
    says: 'travels as text, which counts nothing; take this out',
  },
  {
    of: 'target',
    changes: {
      'slots.0.typeOrder': ['lowpass', 'peaking'],
      'osc.encodings.type': undefined,
      'osc.addresses.type': undefined,
    },
    code: 'slot-type-order',
    path: 'slots[0].typeOrder',
    says: 'no address and encoding for type',
  },
  {
    of: 'target',
    changes: {
      'slots.0.typeOrder': ['lowpass', 'peaking'],
      'slots.1.typeOrder': ['notch'],
    },
    code: 'osc-type-order',
    path: 'osc.encodings.type.order',
    says: 'Every slot has a typeOrder of its own',
  },
  {
    of: 'target',
    changes: { 'osc.encodings.frequency.order': ['peaking'] },
    code: 'osc-type-order',
    path: 'osc.encodings.frequency.order',
    says: 'take it out',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.frequency': '/f/{slot}' },
    code: 'osc-placeholders',
    path: 'osc.addresses.frequency',
    says: 'holds no {output}',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.frequency': '/f/{output}' },
    code: 'osc-placeholders',
    path: 'osc.addresses.frequency',
    says: 'holds no {slot}',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.frequency': '/f{output}{slot}' },
    code: 'osc-placeholders',
    path: 'osc.addresses.frequency',
    says: 'runs {output} and {slot} together',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.outputName': '/out/{output}/{slot}/name' },
    code: 'osc-placeholders',
    path: 'osc.addresses.outputName',
    says: 'an output has one name',
  },
  {
    of: 'target',
    changes: { 'slots.0.id': 'low', 'osc.addresses.frequency': '/out/{output}/{slot:02}/frequency' },
    code: 'osc-addresses-fit',
    path: 'osc.addresses.frequency',
    says: 'pads {slot:02} with zeros, and "low" is no number',
  },
  // By hand: 1 and 3 make 13, and so do nothing and 13.
  {
    of: 'target',
    changes: {
      'outputs.count': 16,
      'osc.addresses.type': '/f/1{output}/{slot}/v',
      'osc.addresses.frequency': '/f/{output}/{slot}/v',
    },
    code: 'osc-addresses-apart',
    path: 'osc.addresses.frequency',
    says: 'for frequency of output 11, slot 1',
  },
  {
    of: 'target',
    changes: {
      'outputs.count': 16,
      'osc.addresses.outputName': '/out/1{output}/name/type',
      'osc.addresses.type': '/out/{output}/{slot}/type',
      'slots.0.id': 'name',
    },
    code: 'osc-addresses-apart',
    path: 'osc.addresses.outputName',
    says: 'for the name of output 1, which is the address of type of output 11, slot name',
  },
  {
    of: 'target',
    changes: { 'osc.addresses.frequency': '/out/{output:02}/{slot}/type' },
    code: 'osc-addresses-differ',
    path: 'osc.addresses.frequency',
    says: 'is the address of type already',
  },
  {
    of: 'target',
    changes: {
      'osc.read': {
        by: 'address',
        address: '/ask{address}',
        addresses: { frequency: '/out/{output}/{slot:02}/type' },
        answeredAt: 'asked-address',
      },
    },
    code: 'osc-addresses-differ',
    path: 'osc.read.addresses.frequency',
    says: 'would ask for frequency at an address of type',
  },
  {
    of: 'target',
    changes: {
      'osc.read': {
        by: 'address',
        address: '/ask{address}',
        addresses: { frequency: '/ask/out/{output}/{slot}/type' },
        answeredAt: 'written-address',
      },
    },
    code: 'osc-addresses-differ',
    path: 'osc.read.addresses.frequency',
    says: 'would ask for frequency at an address of type',
  },
  {
    of: 'target',
    changes: {
      'osc.read': {
        by: 'address',
        address: '/ask{address}',
        addresses: { frequency: '/ask/{output}' },
        answeredAt: 'asked-address',
      },
    },
    code: 'osc-placeholders',
    path: 'osc.read.addresses.frequency',
    says: 'holds no {slot}',
  },
  {
    of: 'target',
    changes: {
      'osc.read': {
        by: 'address',
        addresses: { type: '/ask/{output}/{slot}/type', frequency: '/ask/{output}/{slot}/f' },
        answeredAt: 'asked-address',
      },
    },
    code: 'osc-asking-complete',
    path: 'osc.read',
    says: 'no address to ask for "outputName" at',
  },
  {
    of: 'target',
    changes: {
      'osc.read': {
        by: 'address',
        address: '/ask{address}',
        addresses: { gain: '/ask/{output}/{slot}/gain' },
        answeredAt: 'asked-address',
      },
    },
    code: 'osc-asking-complete',
    path: 'osc.read.addresses.gain',
    says: 'has no address under osc.addresses',
  },
  {
    of: 'target',
    changes: { 'osc.read': { by: 'argument', argument: { type: 's' } } },
    code: 'osc-asking-argument',
    path: 'osc.read.argument.text',
    says: 'as in "?"',
  },
  {
    of: 'target',
    changes: { 'osc.read': { by: 'argument', argument: { type: 'N', text: '?' } } },
    code: 'osc-asking-argument',
    path: 'osc.read.argument.text',
    says: '"N" carries no text',
  },
  {
    of: 'target',
    changes: {
      'osc.encodings.frequency': { as: 'engineering', type: 's' },
      'osc.read': { by: 'argument', argument: { type: 's', text: '-1' } },
    },
    code: 'osc-asking-argument',
    path: 'osc.read.argument.text',
    says: '"-1" could be a value of frequency',
  },
  {
    of: 'target',
    changes: {
      'osc.encodings.type': { as: 'text', type: 's' },
      'osc.read': { by: 'argument', argument: { type: 's', text: 'hi CUT' } },
    },
    code: 'osc-asking-argument',
    path: 'osc.read.argument.text',
    says: 'could be a value of type',
  },

  {
    of: 'recipe',
    changes: { 'mixes.1.outputs': [2] },
    code: 'outputs-of-one-mix',
    path: 'mixes[1].outputs[0]',
    says: 'Output 2 is taken',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.filters.0.steps.frequency': undefined },
    code: 'knob-positions',
    path: 'mixes[0].filters[0].steps.frequency',
    says: 'the frequency has no step',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.filters.0.steps.frequency.index': 177 },
    code: 'knob-positions',
    path: 'mixes[0].filters[0].steps.frequency',
    says: 'beyond the last of 177 steps',
  },
  {
    of: 'recipe',
    changes: { 'mixes.0.filters.0.steps.frequency.fromTop': 3 },
    code: 'knob-positions',
    path: 'mixes[0].filters[0].steps.frequency',
    says: 'are not step 174 of 177',
  },
  {
    of: 'recipe',
    changes: {
      'mixes.0.filters.0.steps.slope': { index: 0, of: 1, display: '12', fromBottom: 0, fromTop: 0 },
    },
    code: 'knob-positions',
    path: 'mixes[0].filters[0].steps.slope',
    says: 'the filter sets no slopeDbPerOctave',
  },

  {
    of: 'journal',
    changes: { startedAt: '2026-11-31T12:30:00Z' },
    code: 'days-exist',
    path: 'startedAt',
    says: 'that month has 30',
  },
  {
    of: 'journal',
    changes: { startedAt: '2100-02-29T00:00:00Z' },
    code: 'days-exist',
    path: 'startedAt',
    says: 'that month has 28',
  },
  {
    of: 'journal',
    changes: { 'outcome.endedAt': '2028-02-30T12:30:00Z' },
    code: 'days-exist',
    path: 'outcome.endedAt',
    says: 'that month has 29',
  },
  {
    of: 'journal',
    changes: { mixes: [], 'target.osc': undefined },
    code: 'target-has-osc',
    path: 'target.osc',
    says: 'nothing can be put back',
  },
  {
    of: 'journal',
    changes: { 'mixes.1.name': 'One' },
    code: 'unique-mix-names',
    path: 'mixes[1].name',
    says: 'mixes[0] is called "One" already',
  },
  {
    of: 'journal',
    changes: { 'outcome.mixes.1.name': 'One' },
    code: 'unique-mix-names',
    path: 'outcome.mixes[1].name',
    says: 'outcome.mixes[0] is called "One" already',
  },
  {
    of: 'journal',
    changes: { 'mixes.1.outputs': [3, 17] },
    code: 'outputs-exist',
    path: 'mixes[1].outputs[1]',
    says: "Output 17 is beyond the target's 16",
  },
  {
    of: 'journal',
    changes: { 'mixes.1.outputs': [3, 2] },
    code: 'outputs-of-one-mix',
    path: 'mixes[1].outputs[1]',
    says: 'Output 2 is taken by mixes[0] "One" already',
  },
  {
    of: 'journal',
    changes: { 'mixes.1.slots.0.output': 4 },
    code: 'slots-of-own-outputs',
    path: 'mixes[1].slots[0].output',
    says: 'Output 4 is none of mix "Two", which has 3',
  },
  {
    of: 'journal',
    changes: { 'mixes.1.slots.0.slot': '3' },
    code: 'slots-exist',
    path: 'mixes[1].slots[0].slot',
    says: 'There are: "1", "2".',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.address': '/out/1/1/type' },
    code: 'found-addresses-differ',
    path: 'mixes[0].slots[0].found[1].address',
    says: 'is the address of mixes[0].slots[0].found[0] already',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1': { ...typeFound, address: '/out/1/1/other' } },
    code: 'found-once',
    path: 'mixes[0].slots[0].found[1].parameter',
    says: 'type of slot "1", output 1, stands at mixes[0].slots[0].found[0] already',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.argument': { type: 'f' } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[1].argument.number',
    says: 'of type "f" has a number; give it',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.argument': { type: 'f', number: 1, text: '1' } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[1].argument.text',
    says: 'take text out',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.argument.number': 3.5e38 },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[1].argument.number',
    says: 'is no float32',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.argument.number': 2147483648 },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.number',
    says: '2147483648 is no int32',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.argument.number': -2147483649 },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.number',
    says: 'is no int32',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.0.argument.number': 0.5 },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.number',
    says: 'is no int32',
  },
  {
    of: 'journal',
    changes: { ...asInt64, 'mixes.0.slots.0.found.0.argument': { type: 'h', text: '9223372036854775808' } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.text',
    says: 'is no int64',
  },
  {
    of: 'journal',
    changes: { ...asInt64, 'mixes.0.slots.0.found.0.argument': { type: 'h', text: '0x10' } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.text',
    says: '"0x10" is no int64',
  },
  {
    of: 'journal',
    changes: { ...asInt64, 'mixes.0.slots.0.found.0.argument': { type: 'h', text: '' } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.text',
    says: '"" is no int64',
  },
  {
    of: 'journal',
    changes: { ...asInt64, 'mixes.0.slots.0.found.0.argument': { type: 'h', number: 1 } },
    code: 'found-arguments',
    path: 'mixes[0].slots[0].found[0].argument.text',
    says: 'has a text; give it',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.argument': { type: 'd', number: 19000 } },
    code: 'found-as-encoded',
    path: 'mixes[0].slots[0].found[1].argument.type',
    says: 'travels as "f", not as "d"',
  },
  {
    of: 'journal',
    changes: { 'mixes.0.slots.0.found.1.parameter': 'gain' },
    code: 'found-as-encoded',
    path: 'mixes[0].slots[0].found[1].parameter',
    says: 'does not say how gain travels',
  },
];

/** What is wrong with a target is wrong with it inside a journal too. */
const embeddedCases = documentCases
  .filter(({ of }) => of === 'target')
  .map(
    ({ changes, path, ...rest }): RuleCase => ({
      ...rest,
      of: 'journal',
      changes: {
        mixes: [],
        ...Object.fromEntries(Object.entries(changes).map(([place, value]) => [`target.${place}`, value])),
      },
      path: `target.${path}`,
    }),
  );

const cases = [...documentCases, ...embeddedCases];

describe('what the rules find', () => {
  it.each(cases)('$of $changes: $code', ({ of, changes, ...expected }) =>
    expectProblem(sampleText(of, changes), expected),
  );

  it('includes an order of types of a desk that OSC does not reach', () =>
    expectProblem(sampleText('target', { 'slots.0.typeOrder': ['lowpass', 'peaking'], osc: undefined }), {
      code: 'slot-type-order',
      path: 'slots[0].typeOrder',
      says: 'the target has no osc',
    }));

  it('includes two filters on one slot', () => {
    const { mixes } = JSON.parse(sampleText('recipe'));
    const [placed] = mixes[0].filters;
    return expectProblem(sampleText('recipe', { 'mixes.0.filters': [placed, placed] }), {
      code: 'one-filter-a-slot',
      path: 'mixes[0].filters[1].slot',
      says: 'Slot "1" is set by filters[0] already',
    });
  });

  it('comes from rules that each have a case here, and a name of their own in their list', () => {
    const lists = {
      rig: rigRules,
      intents: intentsRules,
      target: targetRules,
      recipe: recipeRules,
      journal: journalRules,
    };
    for (const [of, rules] of Object.entries(lists)) {
      const names = rules.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      const shown = cases.filter((each) => each.of === of || of === 'rig').map(({ code }) => code);
      expect(names.filter((name) => ![...shown, 'one-filter-a-slot'].includes(name))).toEqual([]);
    }
  });
});

describe('what the rules let pass', () => {
  it.each([
    ['a system no mix feeds', 'rig', { 'systems.spare': { link: 'digital' } }],
    [
      'a pilot just above the audio',
      'rig',
      { 'systems.ears.audioHighHz': 17000, 'systems.ears.pilotHz': 17000.5 },
    ],
    ['no pre-emphasis', 'rig', { 'systems.ears.preEmphasisMicroseconds': 0 }],
    ['pairs that are the usual ones', 'target', { 'outputs.pairs': 'odd-even' }],
    ['pairs of any two', 'target', { 'outputs.pairs': 'any' }],
    ['pairs that are listed', 'target', { 'outputs.pairs': ['1/2', '16/3'] }],
    ['a low cut that is left out', 'rig', { intents: undefined, leaveOut: ['low-cut'] }],
    ['a shelf without a width', 'intents', { intents: [shelf] }],
    ['a shelf with a Q', 'intents', { intents: [{ ...shelf, q: 0.7 }] }],
    ['a shelf with a slope', 'intents', { intents: [{ ...shelf, shelfSlope: 1 }] }],
    ['a cut with a Q', 'intents', { intents: [{ ...cut, q: 0.7 }] }],
    [
      'a Linkwitz-Riley cut of 24 dB',
      'intents',
      { intents: [{ ...cut, slopeDbPerOctave: 24, family: 'linkwitz-riley' }] },
    ],
    ['a bell with a bandwidth', 'intents', { intents: [{ ...bell, q: undefined, bandwidthOctaves: 1 }] }],
    ['knobs that are fixed', 'target', { 'slots.0.types.peaking': { frequency: 1000, q: 1, gain: 'gains' } }],
    ['a desk without OSC', 'target', { osc: undefined }],
    ['a slot with an order of types of its own', 'target', { 'slots.0.typeOrder': ['lowpass', 'peaking'] }],
    [
      'an order of types for those slots only that have none',
      'target',
      { 'slots.0.typeOrder': ['lowpass', 'peaking'], 'osc.encodings.type.order': ['notch'] },
    ],
    [
      'an order of types for each slot',
      'target',
      {
        'slots.0.typeOrder': ['lowpass', 'peaking'],
        'slots.1.typeOrder': ['peaking', 'notch'],
        'osc.encodings.type': { as: 'fraction', type: 'f' },
      },
    ],
    ['a journal of what has not ended', 'journal', { outcome: null }],
    ['a leap day', 'journal', { startedAt: '2028-02-29T12:30:00Z' }],
    ['the least int32', 'journal', { 'mixes.0.slots.0.found.0.argument.number': -2147483648 }],
    ['the greatest int32', 'journal', { 'mixes.0.slots.0.found.0.argument.number': 2147483647 }],
    [
      'the least int64',
      'journal',
      { ...asInt64, 'mixes.0.slots.0.found.0.argument': { type: 'h', text: '-9223372036854775808' } },
    ],
    // IEEE 754-2019, table 3.5: (2 - 2^-23) 2^127.
    [
      'the greatest float32',
      'journal',
      { 'mixes.0.slots.0.found.1.argument.number': (2 - 2 ** -23) * 2 ** 127 },
    ],
    [
      'a name asked for at its own address',
      'target',
      {
        'osc.read': {
          by: 'address',
          address: '{address}/ask',
          addresses: { outputName: '/out/{output}/name' },
          answeredAt: 'written-address',
        },
      },
    ],
    [
      'a text no filter can be set to',
      'target',
      {
        'osc.encodings.frequency': { as: 'engineering', type: 's' },
        'osc.read': { by: 'argument', argument: { type: 's', text: '?' } },
      },
    ],
    [
      'a number as text where numbers travel as numbers',
      'target',
      { 'osc.read': { by: 'argument', argument: { type: 's', text: '0' } } },
    ],
    ['one output without {output}', 'target', { 'outputs.count': 1, 'osc.addresses.outputName': '/name' }],
  ] as const)('%s', async (_, of, changes) => {
    const { readDocument } = await import('../../src/documents/read.js');
    expect(readDocument(sampleText(of, changes), { source: 'x' })).toMatchObject({ ok: true });
  });

  it('a band to keep that is the one the guard takes where nothing is said', () => {
    const scope = guardScope(hz(19000));
    expect(usualKeepBandHz).toEqual({ low: scope.keepLowHz, high: scope.keepHighHz });
  });
});

describe('notices about a target', () => {
  const noticesOf = async (changes: Readonly<Record<string, unknown>>) => {
    const outcome = readTarget(sampleText('target', changes), { source: 'x' });
    if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
    const target: Target = outcome.value;
    return targetNotices.flatMap((rule) => rule.check(target)).map(({ code, path }) => ({ code, path }));
  };

  const analogue = { id: 'ideal', design: 'analogue', qMeaning: 'classic', sampleRateHz: null };

  it('are none for a good one', async () => {
    expect(await noticesOf({})).toEqual([]);
    // The sample's response is tested: one way of building is what was measured.
    expect(await noticesOf({ realisations: [analogue] })).toEqual([]);
  });

  it.each([
    {
      changes: { 'quantisers.spare': { kind: 'table', values: [1] } },
      code: 'unused-quantisers',
      path: 'quantisers.spare',
    },
    {
      changes: { 'display.typeLabels.notch': 'Bell' },
      code: 'type-labels-differ',
      path: 'display.typeLabels.notch',
    },
    {
      changes: {
        'realisations.2': { id: 'twin', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: 48000 },
      },
      code: 'realisations-differ',
      path: 'realisations[2]',
    },
    {
      changes: { realisations: [analogue], 'evidence.response': 'untested' },
      code: 'one-realisation',
      path: 'realisations',
    },
  ])('$code', async ({ changes, ...expected }) => {
    expect(await noticesOf(changes)).toEqual([expected]);
  });
});
