/**
 * The door of the library for Node.js: what takes a disk or a network. Everything pure is in the main door.
 *
 * What writes to a desk is here only as one whole sequence; the steps it is made of are exported nowhere.
 */

export { journalFolder } from './journals/journal-folder.js';
export {
  isReadJournal,
  type JournalSummary,
  type ListedJournal,
  listJournals,
  type UnreadJournal,
} from './journals/list-journals.js';
export { loadQuantiserKinds } from './load-quantiser.js';
export { type Input, readInput } from './read-input.js';
export { loadTarget, shippedTargets } from './targets.js';
