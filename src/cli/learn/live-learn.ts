import { wrap } from '../../layout/wrap.js';
import type { Desk } from '../../model/desk.js';
import { type Problem, problem } from '../../model/problem.js';
import {
  type LearnProposal,
  type LearnReport,
  learn,
  learnedTarget,
  openGrids,
} from '../../node/desk/learn.js';
import { loadDesk, targetPath } from '../../node/targets.js';
import { openOutput, type PendingOutput } from '../../node/write-outputs.js';
import { printable } from '../../units/quote.js';
import { fail } from '../../units/result.js';
import { consent } from '../words/agreement.js';
import { deskOptions, stopSequence, withInterrupts } from '../words/conversation.js';
import { commandLine } from '../words/copyable.js';
import type { WriteFlags } from '../words/desk-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { inFlags } from '../words/in-flags.js';
import { outputFile, writeAndTell } from '../words/outputs.js';
import { problemLines } from '../words/problem-lines.js';
import { messageColumns, pageColumns, type Terminal } from '../words/terminal.js';
import { endLine, learnedLines, proposalLines, reportData } from './live-lines.js';

export interface LearnFlags extends Omit<WriteFlags, 'only'> {
  readonly target: string;
  readonly output: number;
  readonly outputFile?: string;
  readonly force?: boolean;
  readonly dryRun?: boolean;
  readonly seed?: number;
}

/** With which code it ends: whatever was left open of the grids is a shortfall. */
const exitCode = ({ result, findings: { grids, checks } }: LearnReport, { target }: Desk): ExitCode => {
  if (result === 'desk-lost') return exitCodes.unreachable;
  if (result === 'interrupted' || result === 'not-agreed') return exitCodes.interrupted;
  const isWhole =
    Object.keys(target.quantisers).every((name) => grids.has(name)) &&
    [...grids.values()].every(({ open }) => open === null) &&
    checks.every(({ agrees }) => agrees);
  return result === 'done' && isWhole ? exitCodes.done : exitCodes.fallsShort;
};

/** The file that what was learned goes to, opened before anything is asked of a desk; null where none is named. */
const openLearned = async ({ outputFile: path, force, target }: LearnFlags) => {
  if (path === undefined) return null;
  if (path === '-') {
    const told = 'Standard output tells what was learned; name a file for the draft with it.';
    return fail([problem('usage', '--output-file', told)]);
  }
  const read = await targetPath(target);
  if (!read.ok) return read;
  return openOutput(await outputFile(path, { fileName: 'learned.json' }), {
    inputs: [read.value],
    overwrite: force === true,
  });
};

const finish = async (
  report: LearnReport,
  pending: PendingOutput | null,
  flags: LearnFlags,
  desk: Desk,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = flags.json === true;
  const problems = inFlags(report.problems);
  const columns = messageColumns(terminal);
  if (json) terminal.out(`${JSON.stringify({ ...reportData(report, desk), problems }, null, 2)}\n`);
  else for (const line of learnedLines(report, desk, pageColumns(terminal))) terminal.out(`${line}\n`);
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  for (const line of wrap(endLine(report), columns)) terminal.err(line);
  // What stands as it was found needs no putting back.
  const stands = report.mix !== null && ['put-back', 'unchanged', 'untouched'].includes(report.mix.state);
  if (report.journal !== null && report.result !== 'done' && !stands) {
    terminal.err('To put back what was found:');
    terminal.err(commandLine('bandwright', 'restore', report.journal));
  }
  if (!pending) return exitCode(report, desk);
  if (report.findings.grids.size === 0) {
    await pending.discard();
    terminal.err(`Nothing was learned, so ${flags.outputFile ?? 'the file'} was not written.`);
    return exitCode(report, desk);
  }
  const open = openGrids(report, desk);
  if (open.length > 0)
    for (const line of wrap(
      `The draft that is written is learned in part: it keeps its own ${open.map(printable).join(', ')}.`,
      columns,
    ))
      terminal.err(line);
  const content = learnedTarget(desk.target, report);
  const written = await writeAndTell([{ pending, content }], terminal);
  return written.ok ? exitCode(report, desk) : stopSequence(written.error, terminal, json);
};

/** The work of `bandwright learn --target`. */
export const runLearnLive = async (flags: LearnFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = flags.json === true;
  const stop = (problems: readonly Problem[]) => stopSequence(problems, terminal, json);
  const desk = await loadDesk(flags.target, flags.quantiser);
  if (!desk.ok) return stop(desk.error);
  const asking = consent<LearnProposal>(flags, flags.target === '-', terminal, {
    lines: (proposal) => proposalLines(proposal, desk.value, terminal),
    question: ({ output }) => `Turn the knobs of output ${output}? [y/N] `,
  });
  const opened = flags.dryRun ? null : await openLearned(flags);
  if (opened && !opened.ok) return stop(opened.error);
  const pending = opened?.value ?? null;
  let report: Awaited<ReturnType<typeof learn>>;
  try {
    report = await withInterrupts(terminal, (interruption) =>
      learn({
        ...deskOptions(flags, interruption, terminal),
        desk: desk.value,
        output: flags.output,
        ...(flags.seed === undefined ? {} : { seed: flags.seed }),
        ...(flags.journalFolder === undefined ? {} : { journalFolder: flags.journalFolder }),
        agree: async (proposal) => {
          if (!flags.dryRun) return asking.agree(proposal, interruption);
          for (const line of proposalLines(proposal, desk.value, terminal)) terminal.err(line);
          return false;
        },
      }),
    );
  } catch (error) {
    await pending?.discard();
    throw error;
  }
  const isStopped = !report.ok || report.value.result === 'not-agreed';
  if (isStopped) await pending?.discard();
  if (!report.ok) return stop(report.error);
  if (report.value.result === 'not-agreed') {
    if (flags.dryRun) {
      terminal.err('Dry run: the desk was only read, and nothing was written.');
      if (json) terminal.out(`${JSON.stringify(reportData(report.value, desk.value), null, 2)}\n`);
      return exitCodes.done;
    }
    if (asking.refusal) return stop(fail([asking.refusal]).error);
    terminal.err('Nothing was written.');
    if (json) terminal.out(`${JSON.stringify(reportData(report.value, desk.value), null, 2)}\n`);
    return exitCodes.interrupted;
  }
  return finish(report.value, pending, flags, desk.value, terminal);
};
