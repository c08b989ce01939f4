import type { Problem } from '../../model/problem.js';
import { type ExitCode, exitCodeFor } from './exit-code.js';
import { inFlags } from './in-flags.js';
import { problemLines } from './problem-lines.js';
import { processTerminal, type Terminal } from './terminal.js';

/** Told to the user before a command ends; with --json also told to the program that reads the output. */
export const stopOn = (told: readonly Problem[], terminal: Terminal, json: boolean): ExitCode => {
  const problems = inFlags(told);
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  if (json) terminal.out(`${JSON.stringify({ problems }, null, 2)}\n`);
  return exitCodeFor(problems.map(({ code }) => code));
};

/** Runs a command's work with a terminal and hands its exit code to the process, once all is printed. */
export const runCommand = async (work: (terminal: Terminal) => Promise<ExitCode>): Promise<void> => {
  process.exitCode = await work(processTerminal());
};
