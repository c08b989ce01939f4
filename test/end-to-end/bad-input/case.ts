import { changed, rigJson, rigXml, targetJson } from './samples.js';

/** Something wrong that is given to the program, and what it is to say and do then. */
export interface Case {
  readonly what: string;
  /** What stands in the folder the program runs in, by name. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  /** What else is done there first. */
  readonly before?: (folder: string) => Promise<unknown>;
  readonly args: readonly string[];
  readonly stdin?: string;
  readonly exit: 2 | 3 | 4;
  /** The code of the first problem. */
  readonly code: string;
  /** Parts of what is said: the place, what stood there, what to do. */
  readonly says: readonly string[];
  /** Whether there is no asking for the same with --json. */
  readonly plainOnly?: boolean;
}

export const show = { 'show.json': rigJson };

export const output = ['--output', 'out.txt'];

export const toLog179 = ['recipe', 'show.json', '--target', 'log-179'];

/** A rig file that is wrong. */
export const rig = (what: string, content: string | Uint8Array, code: string, ...says: string[]): Case => ({
  what,
  files: { 'show.json': content },
  args: [...toLog179, ...output],
  exit: 3,
  code,
  says: ['show.json', ...says],
});

/** The good rig in JSON, with one thing changed. */
export const json = (what: string, from: string, to: string, code: string, ...says: string[]): Case =>
  rig(`JSON: ${what}`, changed(rigJson, from, to), code, ...says);

/** The good rig in XML, with one thing changed. */
export const xml = (what: string, from: string, to: string, code: string, ...says: string[]): Case =>
  rig(`XML: ${what}`, changed(rigXml, from, to), code, ...says);

/** The good target with one thing changed, for a rig that is good. */
export const target = (what: string, from: string, to: string, code: string, ...says: string[]): Case => ({
  what: `target: ${what}`,
  files: { ...show, 'desk.json': changed(targetJson, from, to) },
  args: ['recipe', 'show.json', '--target', './desk.json', ...output],
  exit: 3,
  code,
  says: ['desk.json', ...says],
});

/** An input that cannot be read. */
export const unreadable = (what: string, from: string, ...says: string[]): Case => ({
  what: `input: ${what}`,
  files: show,
  args: ['recipe', from, '--target', 'log-179', ...output],
  exit: 4,
  code: 'file-unreadable',
  says,
});

/** An output that cannot be, for a rig and a target that are good. */
export const path = (what: string, to: string, code: string, ...says: string[]): Case => ({
  what: `output: ${what}`,
  files: { ...show, 'desk.json': targetJson },
  args: ['recipe', 'show.json', '--target', './desk.json', '--output', to],
  exit: 4,
  code,
  says,
});

/** A command line that is wrong, beside a rig that is good. */
export const line = (what: string, args: readonly string[], ...says: string[]): Case => ({
  what: `command line: ${what}`,
  files: show,
  args,
  exit: 2,
  code: 'usage',
  says,
  plainOnly: args.length === 0 || args.includes('--format'),
});

/** A module for --quantiser that cannot be taken. */
export const kind = (what: string, module: string, ...says: string[]): Case => ({
  what: `quantiser: ${what}`,
  files: { ...show, 'kind.mjs': module },
  args: [...toLog179, '--quantiser', './kind.mjs', ...output],
  exit: 2,
  code: 'quantiser-module',
  says: ['./kind.mjs', ...says],
});

const ownGrid = '"kind": "geometric", "from": 20, "to": 20000, "count": 121';

/** A module that can be taken, whose grids can not. */
export const grid = (what: string, create: string, ...says: string[]): Case => ({
  ...target('', ownGrid, '"kind": "odd"', 'grid-refused', 'quantisers.frequency', ...says),
  what: `quantiser: ${what}`,
  files: {
    ...show,
    'desk.json': changed(targetJson, ownGrid, '"kind": "odd"'),
    'kind.mjs': `export default { kind: 'odd', summary: 'an odd grid', create: () => ${create} };\n`,
  },
  args: ['recipe', 'show.json', '--target', './desk.json', '--quantiser', './kind.mjs', ...output],
});
