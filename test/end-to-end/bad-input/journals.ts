import { type Case, output } from './case.js';
import { changed, targetJson } from './samples.js';

const osc = `  "evidence": { "grid": "untested", "response": "untested", "push": "untested" },
  "osc": {
    "transports": [{ "kind": "udp", "port": 9000 }],
    "addresses": { "gain": "/out/{output}/{slot}/gain" },
    "encodings": { "gain": { "as": "engineering", "type": "f" } },
    "read": "same-address-without-arguments"
  }
}`;

const oscTarget = changed(
  targetJson,
  '  "evidence": { "grid": "untested", "response": "untested", "push": "untested" }\n}',
  osc,
);

const journalJson = `{
  "format": "bandwright-journal/1",
  "purpose": "push",
  "startedAt": "2026-11-25T12:30:00Z",
  "title": "Pier, matinee",
  "desk": { "transport": "udp", "host": "192.0.2.7", "port": 9000 },
  "mixes": [
    { "name": "Wren", "outputs": [1, 2], "slots": [
      { "output": 1, "slot": "2", "found": [
        { "parameter": "gain", "address": "/out/1/2/gain", "argument": { "type": "f", "number": -3 }, "display": "-3.0 dB" }
      ] },
      { "output": 2, "slot": "2", "found": [
        { "parameter": "gain", "address": "/out/2/2/gain", "argument": { "type": "f", "number": 0 }, "display": "0.0 dB" }
      ] }
    ] }
  ],
  "outcome": null,
  "target": ${oscTarget.trimEnd()}
}
`;

/** The good journal with one thing changed, to be turned into XML. */
const journal = (what: string, from: string, to: string, code: string, ...says: string[]): Case => ({
  what: `journal: ${what}`,
  files: { 'journal.json': changed(journalJson, from, to) },
  args: ['targets', 'convert', 'journal.json', '--to', 'xml', ...output],
  exit: 3,
  code,
  says: ['journal.json', ...says],
});

/** Journals that could not be put back, or not where they say. */
export const badJournals: readonly Case[] = [
  {
    ...journal('cut off', '', '', 'json-syntax', 'closed', 'cut short?'),
    files: { 'journal.json': journalJson.slice(0, journalJson.length / 2) },
  },
  journal('a key that is never allowed', '"title"', '"__proto__": {}, "title"', 'unknown-key', '__proto__'),
  journal('a value twice', '"outcome": null', '"outcome": null, "outcome": null', 'duplicate-key', 'outcome'),
  journal('no number', '"number": -3', '"number": NaN', 'json-syntax', 'NaN'),
  journal('a number beyond all', '"number": -3', '"number": 1e999', 'number-too-large', 'argument.number'),
  journal('a number beyond its type', '"number": -3', '"number": 1e39', 'found-arguments', 'no float32'),
  journal('an address of many', '/out/1/2/gain', '/out/*/2/gain', 'bad-text', ':10:', 'address'),
  journal('an address of another', '/out/1/2/gain', '/out/2/2/gain', 'found-addresses-differ', 'mixes[0]'),
  journal("another mix's output", '"output": 1', '"output": 3', 'slots-of-own-outputs', 'Output 3'),
  journal('a slot of no target', '"slot": "2"', '"slot": "9"', 'slots-exist', '"1", "2", "3"'),
  journal('an output of no target', '"outputs": [1, 2]', '"outputs": [1, 2000]', 'out-of-range', '1024'),
  journal('no such day', '2026-11-25', '2026-02-30', 'days-exist', 'that month has 28'),
  journal('a target that is wrong', '"slope": 12', '"gain": "gain"', 'knobs-fit-type', 'target.slots[0]'),
  journal('a target of no OSC', '"osc"', '"ocs"', 'unknown-key', 'target.ocs'),
];
