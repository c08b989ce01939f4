import type { JournalKeeper } from '../../live/write/journal.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import type { Outcome } from '../../model/problem.js';
import { canBeAsked } from '../../osc/asking.js';
import { ok } from '../../units/result.js';
import { lockDesk, lockFolder } from '../desk-lock.js';
import { openJournalFile } from '../journals/journal-file.js';
import { journalFolder } from '../journals/journal-folder.js';
import { systemClock } from '../network/clock.js';
import type { OpenDesk } from './open-desk.js';

/**
 * Does some work on a desk that nothing else of this computer writes to meanwhile, with a file to keep in what was found;
 * null where the desk cannot be read, so that there is nothing to keep. Problems: `desk-busy`, `lock-unwritable`,
 * `journal-unwritable`, those of the work.
 */
export const withJournal = async <Value>(
  { address, at }: Pick<OpenDesk, 'address' | 'at'>,
  { target }: Desk,
  { purpose, folder }: { readonly purpose: Journal['purpose']; readonly folder: string | undefined },
  work: (keeper: JournalKeeper | null) => Promise<Outcome<Value>>,
): Promise<Outcome<Value>> => {
  const lock = await lockDesk(lockFolder(), { address, port: at.port });
  if (!lock.ok) return lock;
  const facts = { startedAt: systemClock.timeOfDay(), targetId: target.id, purpose };
  const journal = canBeAsked(target) ? await openJournalFile(journalFolder(folder), facts) : ok(null);
  try {
    return journal.ok ? await work(journal.value) : journal;
  } finally {
    if (journal.ok) await journal.value?.discard();
    await lock.value.release();
  }
};
