import { targetNotices } from '../../documents/rules/target/target.js';
import type { Desk } from '../../model/desk.js';
import { deskNotices } from '../../model/desk-notices.js';
import type { Problem } from '../../model/problem.js';
import { loadDesk } from '../../node/targets.js';
import { unsendable } from '../../osc/sendable.js';
import { printable } from '../../units/quote.js';
import { type ExitCode, exitCodeFor, exitCodes } from '../words/exit-code.js';
import { problemLines } from '../words/problem-lines.js';
import type { Terminal } from '../words/terminal.js';

interface Linted {
  readonly file: string;
  readonly problems: readonly Problem[];
  readonly notices: readonly Problem[];
}

const noticesOf = (desk: Desk): readonly Problem[] => [
  ...targetNotices.flatMap((rule) => rule.check(desk.target)),
  ...deskNotices(desk),
];

/** What is wrong with a desk whose file could be read, and what to know of it. */
export const lintDesk = (desk: Desk): Pick<Linted, 'problems' | 'notices'> => {
  const { osc } = desk.target;
  return { problems: osc ? unsendable(desk, osc) : [], notices: noticesOf(desk) };
};

const lintOne = async (file: string, quantiserFiles: readonly string[]): Promise<Linted> => {
  const desk = await loadDesk(file, quantiserFiles);
  if (!desk.ok) return { file, problems: desk.error, notices: [] };
  const { problems, notices } = lintDesk(desk.value);
  return { file, problems: problems.map((each) => ({ source: file, ...each })), notices };
};

/** The work of `bandwright targets lint`: problems fail it, notices only tell. */
export const runLint = async (
  files: readonly string[],
  options: { readonly json?: boolean; readonly quantiser: readonly string[] },
  terminal: Terminal,
): Promise<ExitCode> => {
  const linted: Linted[] = [];
  for (const file of files) linted.push(await lintOne(file, options.quantiser));
  if (options.json) terminal.out(`${JSON.stringify({ linted }, null, 2)}\n`);
  for (const { file, problems, notices } of linted) {
    if (!options.json) {
      terminal.out(
        `${printable(file)}: ${problems.length > 0 ? `${problems.length} wrong` : 'good'}${notices.length > 0 ? `, ${notices.length} to know` : ''}\n`,
      );
      for (const { path, message } of notices) terminal.out(`  ${path}: ${message}\n`);
    }
    for (const line of problemLines(problems, terminal)) terminal.err(line);
  }
  const wrong = linted.flatMap(({ problems }) => problems.map(({ code }) => code));
  return wrong.length > 0 ? exitCodeFor(wrong) : exitCodes.done;
};
