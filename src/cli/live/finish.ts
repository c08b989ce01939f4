import { wrap } from '../../layout/wrap.js';
import type { MixState } from '../../model/journal.js';
import type { RecipeMix } from '../../model/recipe.js';
import { printable } from '../../units/quote.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { problemLines } from '../words/problem-lines.js';
import type { Terminal } from '../words/terminal.js';
import { liveReportJson } from './json-report.js';
import type { DeskPlace } from './open-desk.js';
import { reportLines } from './report-lines.js';
import { recipeOutcome, shortfallLines } from './shortfall.js';
import type { Written } from './write-to-desk.js';

const codes: Readonly<Record<Written['result'], ExitCode>> = {
  done: exitCodes.done,
  'falls-short': exitCodes.fallsShort,
  'not-agreed': exitCodes.interrupted,
  interrupted: exitCodes.interrupted,
  'desk-lost': exitCodes.unreachable,
};

const stateWords: readonly (readonly [state: MixState, words: string])[] = [
  ['applied', 'written and read back'],
  ['unchanged', 'stood so already'],
  ['put-back', 'put back as found'],
  ['sent', 'sent without proof'],
  ['differs', 'not as wanted'],
  ['unknown', 'not known'],
  ['untouched', 'not written to'],
];

const resultWords: Readonly<Record<Written['result'], string>> = {
  done: 'Done',
  'falls-short': 'It falls short',
  'not-agreed': 'Nothing was written',
  interrupted: 'Interrupted',
  'desk-lost': 'The desk was lost',
};

/** How it ended, in a sentence: what holds, and what does not. */
const closing = ({ result, reports }: Written): string => {
  const counted = stateWords.flatMap(([state, words]) => {
    const count = reports.filter((each) => each.state === state).length;
    return count > 0 ? [{ count, words }] : [];
  });
  const mixes = `mix${reports.length === 1 ? '' : 'es'}`;
  const [first] = counted;
  const told =
    first && counted.length === 1
      ? `${reports.length} ${mixes} ${first.words}`
      : `of ${reports.length} ${mixes} ${counted.map(({ count, words }) => `${count} ${words}`).join(', ')}`;
  return `${resultWords[result]}: ${told}.`;
};

/** The states in which a mix stands as its recipe has it, as far as can be told. */
const setStates: readonly MixState[] = ['applied', 'unchanged', 'sent'];

export interface Finishing {
  readonly place: DeskPlace;
  readonly purpose: 'push' | 'restore';
  /** What a recipe tells of the mixes that were to be set. */
  readonly recipeMixes: readonly RecipeMix[];
  readonly json: boolean;
}

/** Tells how a push or a restore went, on both outputs, and with which code to end. */
export const finish = (
  done: Written,
  { place: { kind: transport, host, port }, purpose, recipeMixes, json }: Finishing,
  terminal: Terminal,
): ExitCode => {
  const { result, reports, journal, problems } = done;
  const recipeOf = (name: string): RecipeMix | undefined => recipeMixes.find((each) => each.name === name);
  if (json) {
    const mixes = reports.map((report) => {
      const recipe = recipeOf(report.name);
      return { ...report, ...(recipe ? recipeOutcome(recipe) : {}) };
    });
    terminal.out(
      liveReportJson({ purpose, result, desk: { transport, host, port }, journal, mixes, problems }),
    );
  } else if (result !== 'not-agreed') {
    for (const line of reportLines(reports, purpose, terminal.columns)) terminal.out(`${line}\n`);
  }
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  for (const line of wrap(closing(done), terminal.columns)) terminal.err(line);
  if (result !== 'not-agreed') {
    const set = reports.filter(({ state }) => setStates.includes(state));
    const short = set.flatMap(({ name }) => recipeOf(name) ?? []);
    for (const line of shortfallLines(short, terminal.columns)) terminal.err(line);
  }
  // A path is left whole, to be copied.
  if (journal !== null) terminal.err(`To put back what was found: bandwright restore ${printable(journal)}`);
  return codes[result];
};
