import { type Case, output, rig, target } from './case.js';
import { rigJson } from './samples.js';

/** Target files that describe no desk. */
export const badTargets: readonly Case[] = [
  target(
    'an unknown kind',
    '"geometric"',
    '"geometrical"',
    'grid-refused',
    'quantisers.frequency',
    '"geometric"?',
  ),
  target('a grid that falls', '"to": 20000', '"to": 10', 'grid-refused', 'quantisers.frequency', 'above 20'),
  target(
    'half the sample rate',
    '"to": 20000',
    '"to": 24000',
    'grid-unfit',
    'highpass.frequency',
    '48000 Hz',
  ),
  target(
    'an unknown grid',
    '"gain": "gain"',
    '"gain": "gian"',
    'grids-exist',
    ':13:76',
    'did you mean "gain"?',
  ),
  target('a low cut with a gain', '"slope": 12', '"gain": "gain"', 'knobs-fit-type', ':12:', 'highpass.gain'),
  target('two slots of one id', '"id": "2"', '"id": "1"', 'unique-slot-ids', ':13:7', 'slots[1].id'),
  target('a slope that is none', '"slope": 12', '"slope": 13', 'grid-unfit', 'highpass.slope', '13'),
  target(
    'pairs that are neither a word nor a list',
    '"legs-share"',
    '"legs-share", "pairs": "even-odd"',
    'bad-text',
    ':6:',
    'outputs.pairs',
    'odd-even (1/2, 3/4 and so on',
  ),
  target(
    'an output of two pairs',
    '"legs-share"',
    '"legs-share", "pairs": ["1/2", "2/3"]',
    'output-pairs',
    'outputs.pairs[1]',
    'Output 2 is of outputs.pairs[0] already',
  ),
  target(
    'pairs where no legs share',
    '"legs-share"',
    '"legs-separate", "pairs": "any"',
    'output-pairs',
    'outputs.pairs',
  ),
  {
    ...target("a rig's pair that is none", '"legs-share"', '"legs-share", "pairs": ["5/6"]', 'pair-unknown'),
    says: ['show.json mixes[0].outputs', 'Its pairs are 5/6. Take each output by itself'],
  },
  target('no sample rate', '48000', 'null', 'sample-rate', ':17:75', 'realisations[0].sampleRateHz'),
  {
    ...rig('a rig where a target belongs', rigJson, 'wrong-format', ':2:3', 'a target belongs here'),
    args: ['recipe', '-', '--target', './show.json', ...output],
  },
  {
    ...target('a target that is not there', '', '', 'file-unreadable', 'does not exist'),
    args: ['recipe', 'show.json', '--target', './gone.json', ...output],
    exit: 4,
    says: ['./gone.json', 'does not exist'],
  },
];
