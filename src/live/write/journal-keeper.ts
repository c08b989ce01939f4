import type { Journal } from '../../model/journal.js';
import type { Outcome } from '../../model/problem.js';

/** Where the journal of one push goes. */
export interface JournalKeeper {
  /** Where it is kept, for people: a file's path. */
  readonly place: string;
  /** Fulfilled once the journal is safe from a crash; what was stored before is replaced whole, or stays. */
  store(journal: Journal): Promise<Outcome<void>>;
}
