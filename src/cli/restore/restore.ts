import { readJournal } from '../../documents/read.js';
import { planRestore } from '../../live/plan/plan-restore.js';
import { makeDesk } from '../../model/make-desk.js';
import { loadQuantiserKinds } from '../../node/load-quantiser.js';
import { readInput } from '../../node/read-input.js';
import { agreement } from '../live/agreement.js';
import { chooseMixes } from '../live/choose-mixes.js';
import { type WriteOptions, writePlans } from '../live/write-plans.js';
import type { ExitCode } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';

export interface RestoreOptions extends WriteOptions {
  readonly only?: readonly string[];
  readonly yes?: boolean;
  readonly quantiser: readonly string[];
}

/** The work of `bandwright restore`. */
export const runRestore = async (
  path: string,
  options: RestoreOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopOn>[0] }) =>
    stopOn(outcome.error, terminal, json);
  const asking = agreement(options, path === '-', terminal);
  if (!asking.ok) return stop(asking);
  const input = await readInput(path);
  if (!input.ok) return stop(input);
  const { bytes, source } = input.value;
  const journal = await readJournal(bytes, { source });
  if (!journal.ok) return stop(journal);
  const kinds = await loadQuantiserKinds(options.quantiser);
  if (!kinds.ok) return stop(kinds);
  const desk = makeDesk(journal.value.target, kinds.value);
  if (!desk.ok) return stop({ error: desk.error.map((each) => ({ source, ...each })) });
  const all = planRestore(journal.value, desk.value);
  if (!all.ok) return stop({ error: all.error.map((each) => ({ source, ...each })) });
  const plans = chooseMixes(all.value, options.only);
  if (!plans.ok) return stop(plans);

  return writePlans(
    {
      purpose: 'restore',
      title: journal.value.title,
      plans: plans.value,
      desk: desk.value,
      // They are the outputs that were written to, whatever they are called by now.
      acceptNames: true,
      agreement: asking.value,
      from: journal.value.desk,
    },
    options,
    terminal,
  );
};
