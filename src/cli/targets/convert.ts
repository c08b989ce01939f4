import { readDocument } from '../../documents/read.js';
import { writeJson } from '../../documents/write-json.js';
import { writeXml } from '../../documents/write-xml.js';
import type { Problem } from '../../model/problem.js';
import { readInput } from '../../node/read-input.js';
import { targetPath } from '../../node/targets.js';
import { openOutput } from '../../node/write-outputs.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { outputFile, writeAndTell } from '../words/outputs.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';

export interface ConvertOptions {
  readonly to: 'json' | 'xml';
  readonly output?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** The work of `bandwright targets convert`. */
export const runConvert = async (
  file: string,
  options: ConvertOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const stop = (problems: readonly Problem[]) => stopOn(problems, terminal, options.json === true);
  const path = await targetPath(file);
  if (!path.ok) return stop(path.error);
  const input = await readInput(path.value);
  if (!input.ok) return stop(input.error);
  const document = readDocument(input.value.bytes, { source: input.value.source });
  if (!document.ok) return stop(document.error);
  const content = options.to === 'xml' ? writeXml(document.value) : writeJson(document.value);
  if (options.output === undefined || options.output === '-') {
    // A program that asked for JSON gets JSON, also round an XML text.
    const isForProgram = options.json === true && options.to === 'xml';
    terminal.out(isForProgram ? `${JSON.stringify({ xml: content }, null, 2)}\n` : content);
    return exitCodes.done;
  }
  const output = await outputFile(options.output, { fileName: `converted.${options.to}` });
  const pending = await openOutput(output, { inputs: [path.value], overwrite: options.force === true });
  if (!pending.ok) return stop(pending.error);
  const written = await writeAndTell([{ pending: pending.value, content }], terminal);
  return written.ok ? exitCodes.done : stop(written.error);
};
