import { type Problem, problem } from '../../model/problem.js';
import { targetPath } from '../../node/targets.js';
import { onThread } from '../../node/threads/fit-job.js';
import { wavBytes } from '../../node/wav.js';
import { openOutput } from '../../node/write-outputs.js';
import type { Db } from '../../units/quantity.js';
import { quote } from '../../units/quote.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { outputFile, writeAndTell } from '../words/outputs.js';
import { problemLines } from '../words/problem-lines.js';
import { type ProtectionOptions, protectionOnDesk } from '../words/protection-on-desk.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { hearCaution, hearLines } from './hear-lines.js';

export interface HearOptions extends ProtectionOptions {
  readonly output: string;
  readonly force?: boolean;
  readonly realisation?: string;
  readonly lineUp?: Db;
  readonly seconds?: number;
  readonly json?: boolean;
}

/** The options that mend what cannot be rendered as asked. */
const optionAt: Readonly<Record<string, string>> = { realisation: '--realisation', lineUpDbfs: '--line-up' };

const asUsage = ({ path, message }: Problem): Problem =>
  problem('usage', optionAt[path] ?? path, `${message} Nothing was written.`);

const notWav = (file: string): Problem =>
  problem(
    'usage',
    '--output',
    `${quote(file)} is to hold WAV, which players know by its name: end it with .wav. Nothing was written.`,
  );

/**
 * Renders what a listener gets without and with the protection. Falls short where even with it the pilot is lost, or
 * left and right change places or fold to mono, or where the filters could not be set as asked.
 */
export const runHear = async (options: HearOptions, terminal: Terminal): Promise<ExitCode> => {
  const { realisation, lineUp, seconds, json = false } = options;
  const stop = (problems: Parameters<typeof stopOn>[0]) => stopOn(problems, terminal, json);
  const target = await targetPath(options.target);
  if (!target.ok) return stop(target.error);
  const file = await outputFile(options.output, { fileName: 'hear.wav' });
  if (!/\.wav$/i.test(file)) return stop([notWav(file)]);
  const pending = await openOutput(file, {
    inputs: [target.value, ...options.quantiser],
    overwrite: options.force === true,
  });
  if (!pending.ok) return stop(pending.error);
  const asked = await protectionOnDesk(options);
  const heard = asked.ok
    ? await onThread('hear', { ...asked.value, wishes: { realisation, lineUpDbfs: lineUp, seconds } })
    : asked;
  if (!heard.ok) {
    await pending.value.discard();
    return stop(asked.ok ? heard.error.map(asUsage) : heard.error);
  }
  const { audio, ...figures } = heard.value;
  const written = await writeAndTell([{ pending: pending.value, content: wavBytes(audio) }], terminal);
  if (!written.ok) return stop(written.error);
  const columns = messageColumns(terminal);
  for (const line of hearCaution(columns)) terminal.err(line);
  if (json) {
    const { sampleRateHz } = audio;
    terminal.out(`${JSON.stringify({ target: options.target, file, sampleRateHz, ...figures }, null, 2)}\n`);
  } else {
    for (const line of hearLines(heard.value, columns)) terminal.err(line);
    for (const line of problemLines(figures.problems, terminal)) terminal.err(line);
  }
  const { lock, stereo } = figures.with;
  const holds = lock.kept && stereo.swappedShare === 0 && stereo.foldedShare === 0;
  return holds && figures.problems.length === 0 ? exitCodes.done : exitCodes.fallsShort;
};
