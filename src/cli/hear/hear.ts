import { hearOnDesk } from '../../analysis/hear.js';
import { type Problem, problem } from '../../model/problem.js';
import { isFolder } from '../../node/is-folder.js';
import { targetPath } from '../../node/targets.js';
import { wavBytes } from '../../node/wav.js';
import { openOutput, writeOutputs } from '../../node/write-outputs.js';
import { printable } from '../../units/quote.js';
import type { OneDeskOptions } from '../check/check-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { problemLines } from '../words/problem-lines.js';
import { protectionOnDesk } from '../words/protection-on-desk.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { hearCaution, hearLines } from './hear-lines.js';

const standardOutput = problem(
  'usage',
  '--hear',
  'Sound goes to a file here, not to standard output: name one, as in --hear hear.wav.',
);

/** The options that mend what cannot be rendered as asked. */
const optionAt: Readonly<Record<string, string>> = { realisation: '--realisation', lineUpDbfs: '--line-up' };

const asUsage = ({ path, message }: Problem): Problem =>
  problem('usage', optionAt[path] ?? path, `${message} Nothing was written.`);

/** In a folder the file has a name of its own. */
const fileAt = async (path: string): Promise<string> =>
  /[\\/]$/.test(path) || (await isFolder(path)) ? `${path.replace(/[\\/]+$/, '')}/hear.wav` : path;

/**
 * Renders what a listener gets without and with the protection. Falls short where even with it the pilot is lost, or
 * left and right change places or fold to mono, or where the filters could not be set as asked.
 */
export const runHear = async (options: OneDeskOptions, terminal: Terminal): Promise<ExitCode> => {
  const { hear = '-', json = false } = options;
  const stop = (problems: Parameters<typeof stopOn>[0]) => stopOn(problems, terminal, json);
  if (hear === '-') return stop([standardOutput]);
  const target = await targetPath(options.target);
  if (!target.ok) return stop(target.error);
  const file = await fileAt(hear);
  const pending = await openOutput(file, {
    inputs: [target.value, ...options.quantiser],
    overwrite: options.force === true,
  });
  if (!pending.ok) return stop(pending.error);
  const asked = await protectionOnDesk(options);
  const heard = asked.ok
    ? hearOnDesk(asked.value, { realisation: options.realisation, lineUpDbfs: options.lineUp })
    : asked;
  if (!heard.ok) {
    await pending.value.discard();
    return stop(asked.ok ? heard.error.map(asUsage) : heard.error);
  }
  const { audio, ...figures } = heard.value;
  const written = await writeOutputs([{ pending: pending.value, content: wavBytes(audio) }]);
  if (!written.ok) return stop(written.error);
  terminal.err(`Wrote ${printable(file)}`);
  for (const line of hearCaution) terminal.err(line);
  if (json) {
    const { sampleRateHz } = audio;
    terminal.out(`${JSON.stringify({ target: options.target, file, sampleRateHz, ...figures }, null, 2)}\n`);
  } else {
    for (const line of hearLines(heard.value)) terminal.err(line);
    for (const line of problemLines(figures.problems, terminal)) terminal.err(line);
  }
  const { lock, stereo } = figures.with;
  const holds = lock.kept && stereo.swappedShare === 0 && stereo.foldedShare === 0;
  return holds && figures.problems.length === 0 ? exitCodes.done : exitCodes.fallsShort;
};
