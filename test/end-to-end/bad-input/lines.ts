import { type Case, line, toLog179 } from './case.js';
import { intentsJson } from './samples.js';

const check = ['check', '--target', 'log-179'];
const tradeoff = ['tradeoff', '--target', 'log-179'];
const hear = ['hear', '--target', 'log-179', '--output', 'a.wav'];

/** Command lines. */
export const badLines: readonly Case[] = [
  line('no command', [], 'Usage: bandwright'),
  line('an unknown command', ['recipee'], "unknown command 'recipee'", 'Did you mean recipe?'),
  line('an unknown command of a command', ['targets', 'shwo'], "'shwo'", 'Did you mean show?'),
  line('escapes in a command', ['rec\u001b]0;x\u0007'], 'rec\\u{1b}]0;x\\u{7}'),
  line('an unknown flag', [...toLog179, '--ouput', 'x'], "'--ouput'", 'Did you mean --output?'),
  line('escapes in a flag', [...toLog179, '--o\u001b[31m'], '--o\\u{1b}[31m'),
  { ...line('a flag without its value', [...toLog179, '--output'], '--output <path>'), plainOnly: true },
  line('an empty output', [...toLog179, '--output', ''], '--output <path>', 'name a file'),
  line('no rig', ['recipe', '--target', 'log-179'], "'rig'"),
  line('two rigs', [...toLog179, 'other.json'], 'Expected 1 argument but got 2'),
  line('no target', ['recipe', 'show.json'], '--target'),
  {
    ...line('an unknown target', ['recipe', 'show.json', '-t', 'log-178'], 'Did you mean log-179?'),
    code: 'target-unknown',
  },
  { ...line('an empty target', ['recipe', 'show.json', '-t', ''], 'There are:'), code: 'target-unknown' },
  {
    ...line('escapes in a target', ['check', '-t', 'log\u001b[31m'], 'log\\u{1b}[31m'),
    code: 'target-unknown',
  },
  {
    ...line('an unknown target to show', ['targets', 'show', 'r400'], 'Did you mean r40?'),
    code: 'target-unknown',
  },
  line('an unknown fit', [...toLog179, '--fit', 'nearets'], '--fit <name>', "'nearets'", 'nearest'),
  line(
    'an unknown format',
    [...toLog179, '--format', 'txt'],
    '--format',
    '"txt"',
    'text, sheet, svg, json, xml, csv',
  ),
  line('an empty format', [...toLog179, '--format', 'csv,'], '--format', '""'),
  line('several formats and no place', [...toLog179, '--format', 'text,csv'], '--format', '--output'),
  line('a format beside --json', [...toLog179, '--format', 'csv', '--json'], '--json', '--format'),
  { ...line('a full text in JSON', [...toLog179, '--json', '--full'], '--full', '--json'), plainOnly: true },
  line('a full text in CSV', [...toLog179, '--format', 'csv', '--full'], '--full', 'csv', 'add text'),
  line(
    'an unknown syntax',
    ['targets', 'convert', 'r40', '--to', 'yaml'],
    '--to <syntax>',
    "'yaml'",
    'json, xml',
  ),
  line('no syntax', ['targets', 'convert', 'r40'], '--to <syntax>'),
  line('a gain for a pilot', [...check, '--pilot', '19 dB'], '--pilot', '"dB" after the number', '19.32 kHz'),
  line('a pilot at 0', [...check, '--pilot', '0'], '--pilot', 'not above zero'),
  line('a pilot below 0', [...check, '--pilot', '-19k'], '--pilot', 'not above zero'),
  line('a pilot with a comma', [...check, '--pilot', '0,5k'], '--pilot', '0.5k'),
  line('a pilot that is a word', [...check, '--pilot', 'abc'], '--pilot', 'no number'),
  line('an empty pilot', [...check, '--pilot', ''], '--pilot', 'is empty'),
  line('a pilot at 1e999', [...check, '--pilot', '1e999'], '--pilot', 'too large'),
  line('a pilot beyond the desk', ['check', '-t', 'r40', '--pilot', '22k'], '--pilot', '22050 Hz', 'r40'),
  line('a pilot in kHz', [...check, '--pilot', '19'], '--pilot', 'write 19000'),
  line('a pilot no link has', [...check, '--pilot', '24k'], '--pilot', '16000 and 22000 Hz, not at 24000 Hz'),
  line('a pilot no link has, for every desk', ['check', '--pilot', '15k'], '--pilot', 'not at 15000 Hz'),
  line('a pilot in kHz for a trade-off', [...tradeoff, '--pilot', '19'], '--pilot', '19000'),
  line('a pilot in kHz for a sound', [...hear, '--pilot', '19'], '--pilot', '19000'),
  line('music beyond the desk', [...check, '--keep-high', '30k'], '--keep-high', '24000 Hz', 'log-179'),
  line('music below 80 Hz', [...check, '--keep-high', '50'], '--keep-high', '50 Hz'),
  line('a loss below 0', [...check, '--keep-loss', '-1'], '--keep-loss', '-1 dB'),
  line('outputs beside a rig', [...toLog179, '--outputs', '1/2'], '--outputs', 'intents'),
  line('output 0', [...toLog179, '--outputs', '0'], '--outputs', '"0"', '1 to 1024'),
  line('an output twice', [...toLog179, '--outputs', '3/3'], '--outputs', 'twice'),
  line('three outputs', [...toLog179, '--outputs', '1/2/3'], '--outputs', '"1/2/3"'),
  {
    ...line(
      'an output beyond the target',
      ['recipe', 'in.json', '-t', 'r40', '--outputs', '25'],
      '--outputs',
      '1 to 24',
    ),
    files: { 'in.json': intentsJson },
  },
  {
    ...line(
      'two outputs that are no pair',
      ['recipe', 'in.json', '-t', 'r40', '--outputs', '3/16'],
      '--outputs',
      'Write 3/4 or 15/16, or take each output by itself',
    ),
    files: { 'in.json': intentsJson },
  },
  {
    ...line(
      'a pair the wrong way round',
      ['recipe', 'in.json', '-t', 'r40', '--outputs', '2/1'],
      '--outputs',
      'Write 1/2.',
    ),
    files: { 'in.json': intentsJson },
  },
  line('rig and target from standard input', ['recipe', '-', '--target', '-'], 'standard input'),
];
