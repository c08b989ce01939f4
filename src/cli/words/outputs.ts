import type { Outcome } from '../../model/problem.js';
import { isFolder } from '../../node/folders.js';
import { writeOutputs } from '../../node/write-outputs.js';
import { printable } from '../../units/quote.js';
import type { Terminal } from './terminal.js';

/** The file that --output means: in a folder one with a name of its own. */
export const outputFile = async (
  output: string,
  { fileName, inFolder = false }: { readonly fileName: string; readonly inFolder?: boolean },
): Promise<string> =>
  inFolder || /[\\/]$/.test(output) || (await isFolder(output))
    ? `${output.replace(/[\\/]+$/, '')}/${fileName}`
    : output;

/** Writes every output or none, and tells where they are. */
export const writeAndTell = async (
  outputs: Parameters<typeof writeOutputs>[0],
  terminal: Terminal,
): Promise<Outcome<readonly string[]>> => {
  const written = await writeOutputs(outputs);
  if (written.ok) for (const path of written.value) terminal.err(`Wrote ${printable(path)}`);
  return written;
};
