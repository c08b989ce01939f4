import type { ExportContext, Exporter } from '../../exporters/exporter.js';
import { exporters } from '../../exporters/registry.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { PendingOutput } from '../../node/write-outputs.js';
import { fail, ok } from '../../units/result.js';
import { isStandardOutput, openOutputs, writeAndTell } from '../words/outputs.js';
import type { Terminal } from '../words/terminal.js';
import { shownOn } from '../words/verdict-colours.js';

export interface DeliveryOptions {
  readonly output?: string;
  readonly force?: boolean;
}

/** Where each form of a recipe is to go: a file that has been opened, or standard output. */
export interface Delivery {
  readonly parts: readonly { readonly exporter: Exporter; readonly pending: PendingOutput | null }[];
  discard(): Promise<void>;
}

const usage = (path: string, message: string): Outcome<never> => fail([problem('usage', path, message)]);

const toStandardOutput = (chosen: readonly Exporter[], terminal: Terminal): Outcome<Delivery> => {
  const [exporter, another] = chosen;
  if (!exporter || another) {
    return usage(
      '--format',
      'Several formats need a place each: add --output and a folder, as in --output recipes/.',
    );
  }
  if (
    terminal.outIsTerminal &&
    !exporter.mediaType.startsWith('text/') &&
    !/json|xml/.test(exporter.mediaType)
  ) {
    return usage(
      '--format',
      `The format ${exporter.name} is binary and would garble a terminal: add --output and a file.`,
    );
  }
  return ok({ parts: [{ exporter, pending: null }], discard: async () => undefined });
};

/** Settles where everything goes and opens it, before any work is done. */
export const planDelivery = async (
  chosen: readonly Exporter[],
  { output, force }: DeliveryOptions,
  inputs: readonly string[],
  terminal: Terminal,
): Promise<Outcome<Delivery>> => {
  if (isStandardOutput(output)) return toStandardOutput(chosen, terminal);
  const opened = await openOutputs(
    output,
    chosen.map(({ fileName }) => fileName),
    { inputs, overwrite: force === true },
  );
  if (!opened.ok) return opened;
  const { pending, discard } = opened.value;
  return ok({
    parts: chosen.map((exporter, index) => ({ exporter, pending: pending[index] ?? null })),
    discard,
  });
};

/** Makes every form of the recipe, then writes them all, or none. */
export const deliver = async (
  { parts, discard }: Delivery,
  recipe: Recipe,
  told: Omit<ExportContext, 'columns' | 'emphasise'>,
  terminal: Terminal,
): Promise<Outcome<readonly string[]>> => {
  const filled: { pending: PendingOutput; content: string | Uint8Array }[] = [];
  for (const { exporter, pending } of parts) {
    const shown = pending ? {} : shownOn(terminal);
    const content = exporter.content(recipe, { ...told, ...shown });
    if (!content.ok) {
      await discard();
      return content;
    }
    if (pending) filled.push({ pending, content: content.value });
    else terminal.out(content.value);
  }
  return writeAndTell(filled, terminal);
};

/** The exporter of a name that is known to be there. */
export const exporterNamed = (name: string): Exporter => {
  const found = exporters.find((each) => each.name === name);
  if (!found) throw new RangeError(`no exporter is called ${name}`);
  return found;
};
