import type { Journal } from '../../model/journal.js';
import type { RecipeMix } from '../../model/recipe.js';
import { journalFolder } from '../../node/journals/journal-folder.js';
import type { ExitCode } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import type { Agreement } from './agreement.js';
import type { DeskOptions } from './desk-options.js';
import { finish } from './finish.js';
import { withInterrupts } from './interruption.js';
import { findDesk, openDesk, withOpenDesk } from './open-desk.js';
import { type Writing, writeToDesk } from './write-to-desk.js';

/** What a push and a restore have in common once they know what to write. */
export interface PlansToWrite extends Pick<Writing, 'purpose' | 'title' | 'plans' | 'desk' | 'acceptNames'> {
  readonly agreement: Agreement;
  /** The desk to go to unless the options name one. */
  readonly from?: Journal['desk'];
  /** What a recipe tells of the mixes it is to set. */
  readonly recipeMixes?: readonly RecipeMix[];
}

export interface WriteOptions extends DeskOptions {
  readonly journalFolder?: string;
  readonly json?: boolean;
}

/** Opens a desk, writes to it, and tells how it went. */
export const writePlans = async (
  { agreement, from, recipeMixes = [], ...what }: PlansToWrite,
  options: WriteOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const { purpose, desk } = what;
  const place = await findDesk(desk, options, from);
  if (!place.ok) return stopOn(place.error, terminal, json);
  return withInterrupts(terminal, async (interruption) => {
    const open = await openDesk(place.value, options, interruption.signal);
    if (!open.ok) return stopOn(open.error, terminal, json);
    const { destination } = open.value;
    const agree = agreement({ desk, destination, interruption, purpose, recipeMixes });
    const folder = journalFolder(options.journalFolder);
    const done = await withOpenDesk(open.value, () =>
      writeToDesk({ ...what, open: open.value, journalFolder: folder, interruption, agree }, terminal),
    );
    return done.ok
      ? finish(done.value, { place: place.value, purpose, recipeMixes, json }, terminal)
      : stopOn(done.error, terminal, json);
  });
};
