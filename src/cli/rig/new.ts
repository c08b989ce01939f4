import { readRig } from '../../documents/read.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Rig } from '../../model/rig.js';
import { readInput } from '../../node/read-input.js';
import { quoteText } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { contentFor, type GuideOptions, makeByAsking } from '../guided/guide.js';
import type { ExitCode } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { rigBuilder } from './rig-builder.js';
import { rigOf } from './rig-draft.js';
import { idOf } from './typed-system.js';

export interface NewRigOptions extends GuideOptions {
  readonly title?: string;
  readonly system?: readonly string[];
  readonly mix?: readonly string[];
  readonly freeSlots?: readonly string[];
}

const loadRig = async (path: string | undefined): Promise<Outcome<Rig | null>> => {
  if (path === undefined) return ok(null);
  const input = await readInput(path);
  return input.ok ? readRig(input.value.bytes, { source: input.value.source }) : input;
};

/** What a show may be called after its file. */
const titleAfter = (file: string): string =>
  /([\p{L}\p{N}][\p{L}\p{N} ._-]*?)(?:\.\w+)?$/u.exec(file.split(/[\\/]/).at(-1) ?? '')?.[1] ?? 'show';

/** Whoever is asked may tell a system anew; of two options one would be lost. */
const eachOnce = (systems: readonly string[]): Result<null, string> => {
  const told = new Map<string, string>();
  for (const text of systems.filter((each) => each.includes('='))) {
    const id = idOf(text.slice(0, text.indexOf('=')));
    const before = told.get(id);
    if (before !== undefined) {
      return fail(
        `${quoteText(text)} would take the place of ${quoteText(before)}, since both are called ${quoteText(id)}. Leave one out, or call it otherwise.`,
      );
    }
    told.set(id, text);
  }
  return ok(null);
};

/** The work of `bandwright rig new`. */
export const runNewRig = async (
  file: string,
  options: NewRigOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const { title, system, mix, freeSlots, from } = options;
  const once = eachOnce(system ?? []);
  if (!once.ok) return stopOn([problem('usage', '--system', once.error)], terminal, options.json === true);
  const rig = await loadRig(from);
  if (!rig.ok) return stopOn(rig.error, terminal, options.json === true);
  const making = {
    command: 'rig new',
    builder: rigBuilder(rig.value, titleAfter(file)),
    flags: {
      ...(title === undefined ? {} : { title: [title] }),
      ...(system && { system }),
      ...(mix && { mix }),
      ...(freeSlots && { 'free-slots': freeSlots }),
    },
    file,
    inputs: from === undefined ? [] : [from],
    options,
    finish: (draft: Parameters<typeof rigOf>[0]) => {
      const read = readRig(contentFor(file, rigOf(draft)), { source: file });
      return read.ok ? ok({ document: read.value, toKnow: [] }) : read;
    },
    next: [
      ['bandwright', 'compare', file],
      ['bandwright', 'recipe', file, '--target', 'cut-section'],
    ],
  };
  return makeByAsking(making, terminal);
};
