import type { Outcome } from '../../model/problem.js';
import { isFolder } from '../../node/folders.js';
import { type OutputRules, openOutput, type PendingOutput, writeOutputs } from '../../node/write-outputs.js';
import { printable } from '../../units/quote.js';
import { ok } from '../../units/result.js';
import type { Terminal } from './terminal.js';

export const isStandardOutput = (output: string | undefined): output is undefined | '-' =>
  output === undefined || output === '-';

/** The file that --output means: in a folder one with a name of its own. */
export const outputFile = async (
  output: string,
  { fileName, inFolder = false }: { readonly fileName: string; readonly inFolder?: boolean },
): Promise<string> =>
  inFolder || /[\\/]$/.test(output) || (await isFolder(output))
    ? `${output.replace(/[\\/]+$/, '')}/${fileName}`
    : output;

/** Files that have been opened, one for each name that was asked for, in their order. */
export interface OpenedOutputs {
  readonly pending: readonly PendingOutput[];
  discard(): Promise<void>;
}

/** Opens a file for each of some names where --output means them, all or none, before any work is done. */
export const openOutputs = async (
  output: string,
  fileNames: readonly string[],
  rules: OutputRules,
): Promise<Outcome<OpenedOutputs>> => {
  const pending: PendingOutput[] = [];
  const discard = async (): Promise<void> => {
    for (const each of pending) await each.discard();
  };
  for (const fileName of fileNames) {
    const opened = await openOutput(
      await outputFile(output, { fileName, inFolder: fileNames.length > 1 }),
      rules,
    );
    if (!opened.ok) {
      await discard();
      return opened;
    }
    pending.push(opened.value);
  }
  return ok({ pending, discard });
};

/** Writes every output or none, and tells where they are. */
export const writeAndTell = async (
  outputs: Parameters<typeof writeOutputs>[0],
  terminal: Terminal,
): Promise<Outcome<readonly string[]>> => {
  const written = await writeOutputs(outputs);
  if (written.ok) for (const path of written.value) terminal.err(`Wrote ${printable(path)}`);
  return written;
};
