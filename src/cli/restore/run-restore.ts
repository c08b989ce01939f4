import { planRestore } from '../../live/plan-restore.js';
import { makeDesk } from '../../model/make-desk.js';
import { journalFolder } from '../../node/journals/journal-folder.js';
import { loadQuantiserKinds } from '../../node/load-quantiser.js';
import { readInput } from '../../node/read-input.js';
import { readJournal } from '../../reading/read.js';
import type { ExitCode } from '../exit-code.js';
import { agreement } from '../live/agreement.js';
import { chooseMixes } from '../live/choose-mixes.js';
import type { DeskOptions } from '../live/desk-options.js';
import { finish } from '../live/finish.js';
import { withInterrupts } from '../live/interruption.js';
import { findDesk, openDesk, withOpenDesk } from '../live/open-desk.js';
import { writeToDesk } from '../live/write-to-desk.js';
import { stopOn } from '../run-command.js';
import type { Terminal } from '../terminal.js';

export interface RestoreOptions extends DeskOptions {
  readonly only?: readonly string[];
  readonly yes?: boolean;
  readonly journalFolder?: string;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
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

  const place = await findDesk(desk.value, options, journal.value.desk);
  if (!place.ok) return stop(place);
  return withInterrupts(terminal, async (interruption) => {
    const open = await openDesk(place.value, options, interruption.signal);
    if (!open.ok) return stop(open);
    const { destination } = open.value;
    const done = await withOpenDesk(open.value, () =>
      writeToDesk(
        {
          purpose: 'restore',
          title: journal.value.title,
          plans: plans.value,
          desk: desk.value,
          open: open.value,
          journalFolder: journalFolder(options.journalFolder),
          // They are the outputs that were written to, whatever they are called by now.
          acceptNames: true,
          interruption,
          agree: asking.value({ desk: desk.value, destination, interruption, purpose: 'restore' }),
        },
        terminal,
      ),
    );
    return done.ok ? finish(done.value, open.value, 'restore', terminal, json) : stop(done);
  });
};
