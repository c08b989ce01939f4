import type { MixPlan } from '../../live/plan/plan.js';
import { type Sorted, type WriteDone, writeMixes } from '../../live/write/write-mixes.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import type { Outcome } from '../../model/problem.js';
import { lockDesk, lockFolder } from '../../node/desk-lock.js';
import { openJournalFile } from '../../node/journals/journal-file.js';
import { canBeAsked } from '../../osc/asking.js';
import { ok } from '../../units/result.js';
import type { Terminal } from '../words/terminal.js';
import type { Interruption } from './interruption.js';
import type { OpenDesk } from './open-desk.js';

/** What a push or a restore is about to write. */
export interface Writing {
  readonly purpose: Journal['purpose'];
  readonly title: string;
  readonly plans: readonly MixPlan[];
  readonly desk: Desk;
  readonly open: OpenDesk;
  readonly journalFolder: string;
  readonly acceptNames: boolean;
  readonly interruption: Interruption;
  /** Asked with the place where what was found is going to be kept; null where nothing can be. */
  agree(sorted: Sorted, journal: string | null): Promise<boolean>;
}

/** How it went, and where what was found is kept. */
export interface Written extends WriteDone {
  readonly journal: string | null;
}

const verbs: Readonly<Record<Journal['purpose'], string>> = { push: 'Writing', restore: 'Putting back' };

/** Writes to a desk that no other push of this computer has meanwhile, with a journal on disk. */
export const writeToDesk = async (writing: Writing, terminal: Terminal): Promise<Outcome<Written>> => {
  const { purpose, title, desk, open, interruption } = writing;
  const { clock, line, place, destination } = open;
  const lock = await lockDesk(lockFolder(), place);
  if (!lock.ok) return lock;
  const isReadable = canBeAsked(desk.target);
  const journal = isReadable
    ? await openJournalFile(writing.journalFolder, {
        startedAt: clock.timeOfDay(),
        targetId: desk.target.id,
        purpose,
      })
    : ok(null);
  try {
    if (!journal.ok) return journal;
    const keeper = journal.value;
    const { kind: transport, host, port } = place;
    const done = await writeMixes({
      plans: writing.plans,
      desk,
      line,
      clock,
      ...interruption,
      facts: { purpose, title, desk: { transport, host, port } },
      acceptNames: writing.acceptNames,
      keeper,
      onReading: (isReading) =>
        terminal.progress(isReading ? `Reading what stands on ${destination} ...` : null),
      onMix: (name, index, of) => terminal.progress(`${verbs[purpose]} ${index}/${of}  ${name}`),
      agree: (sorted) => writing.agree(sorted, keeper?.place ?? null),
    });
    terminal.progress(null);
    return done.ok
      ? ok({ ...done.value, journal: done.value.isKept ? (keeper?.place ?? null) : null })
      : done;
  } finally {
    if (journal.ok) await journal.value?.discard();
    await lock.value.release();
  }
};
