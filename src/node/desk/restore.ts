import { writeJson } from '../../documents/write-json.js';
import { chooseMixes } from '../../live/plan/plan.js';
import { planRestore, raisedBy } from '../../live/plan/plan-restore.js';
import type { Journal, MixState } from '../../model/journal.js';
import { makeDesk } from '../../model/make-desk.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { canBeAsked } from '../../osc/asking.js';
import type { QuantiserKind } from '../../quantisers/quantiser.js';
import { printable, quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { journalFolder } from '../journals/journal-folder.js';
import { isWhole, readKept } from '../journals/kept-journal.js';
import {
  isEmptyJournal,
  isReadJournal,
  type JournalSummary,
  listJournals,
  type UnreadJournal,
} from '../journals/list-journals.js';
import { parseDestination } from '../network/destination.js';
import { readGiven } from '../read-input.js';
import { loadTarget } from '../targets.js';
import { type WriteOptions, type WriteReport, writeDesk } from './write-desk.js';

export interface RestoreOptions extends WriteOptions {
  /** A journal, or its text: JSON or XML. */
  readonly journal: Journal | string | Uint8Array;
  /** What the journal is called in problems: a file's name. */
  readonly source?: string;
  /** The kinds of grid there are, where the journal's target has others than the usual. */
  readonly quantiserKinds?: readonly QuantiserKind[];
  /** Lets outputs go by other names than those the journal keeps. */
  readonly acceptNames?: boolean;
  /** Lets a journal be put back that was changed since it was written, as far as its desk can show each value. */
  readonly acceptChanges?: boolean;
  /** With it: lets a changed journal raise a level. What was found is put back whatever it does. */
  readonly allowRise?: boolean;
  /** With it: the target the journal was made by, an id or a file, where it is not the shipped one of its id. */
  readonly target?: string;
}

/** Why the target in a journal that was changed is not believed: it says which addresses and which values there are. */
const targetFault = async ({ target }: Journal, file: string | undefined): Promise<Problem | null> => {
  const known = await loadTarget(file ?? target.id);
  if (known.ok && writeJson(known.value) === writeJson(target)) return null;
  const what = file === undefined ? `the shipped target ${quote(target.id)}` : `the target ${quote(file)}`;
  const why = known.ok ? 'is another' : `cannot be read (${known.error[0]?.message})`;
  const told = `A journal that was changed is put back only by a target that was not: the one in it is to be ${what}, which ${why}. Nothing was sent. Name the target's own file with target.`;
  return problem('journal-changed', 'target', told);
};

/**
 * Puts back exactly what a push found, and reads it back. What stands there now is kept in a journal of its own first.
 * It is safe to do twice. Problems: what is wrong with the journal, `journal-changed`, those of `writeDesk`.
 */
export const restore = async (options: RestoreOptions): Promise<Outcome<WriteReport>> => {
  const { source = 'the journal' } = options;
  const read = readGiven(options.journal, source, readKept);
  if (!read.ok) return read;
  const journal = read.value;
  const isAsWritten = isWhole(journal);
  if (!isAsWritten && options.acceptChanges !== true) {
    const why =
      journal.digest === undefined
        ? 'carries no digest, so nothing shows whether it is as it was written'
        : 'is not as its digest says: it was changed since it was written, or damaged';
    const told = `This journal ${why}. Nothing was sent. Take the one that was kept; or, if it was changed on purpose, ask for it with acceptChanges: then only what its desk can show is put back.`;
    return fail([{ source, ...problem('journal-changed', 'digest', told) }]);
  }
  const otherTarget = isAsWritten ? null : await targetFault(journal, options.target);
  if (otherTarget) return fail([{ source, ...otherTarget }]);
  const desk = makeDesk(journal.target, options.quantiserKinds);
  if (!desk.ok) return fail(desk.error.map((each) => ({ source, ...each })));
  if (!canBeAsked(journal.target)) {
    const told = `The target ${quote(journal.target.id)} of this journal cannot be read back: what stands on the desk now could not be kept, and nothing proved. Nothing was written. Dial by hand what the journal tells.`;
    return fail([{ source, ...problem('desk-unreadable', 'target.osc.read', told) }]);
  }
  const all = planRestore(journal, desk.value, isAsWritten ? 'as-written' : 'changed');
  if (!all.ok) return fail(all.error.map((each) => ({ source, ...each })));
  const plans = chooseMixes(all.value, options.only);
  if (!plans.ok) return plans;
  const raised = isAsWritten || options.allowRise === true ? [] : raisedBy(plans.value, desk.value);
  if (raised.length > 0) return fail(raised.map((each) => ({ source, ...each })));
  return writeDesk(
    {
      purpose: 'restore',
      title: journal.title,
      desk: desk.value,
      plans: plans.value,
      acceptNames: options.acceptNames === true,
      blind: false,
      from: journal.desk,
      isChanged: !isAsWritten,
      ...(plans.value.length === all.value.length ? { restores: journal.startedAt } : {}),
    },
    options,
  );
};

/** The journal to restore where none is named, and newer files that cannot be read and may be another. */
export interface LastJournal {
  readonly journal: JournalSummary;
  readonly passedOver: readonly UnreadJournal[];
}

/** Whether a journal is of something that may have left the desk otherwise than it was found. */
const leavesWork = ({ purpose, outcome }: JournalSummary): boolean => {
  if (purpose !== 'learn') return purpose === 'push';
  // What was turned to learn from is put back at once, unless that was broken off.
  const asFound: readonly MixState[] = ['put-back', 'unchanged', 'untouched'];
  return !outcome?.mixes.every(({ state }) => asFound.includes(state));
};

/**
 * The newest journal of a push that has not been put back since; of a push to the desk at `to`, where that is told.
 * Problems: `journal-missing` where there is none; `to` is no place; the folder cannot be read.
 */
export const lastJournal = async (asked?: string, to?: string): Promise<Outcome<LastJournal>> => {
  const place = to === undefined ? null : parseDestination(to);
  if (place && !place.ok) return fail([problem('usage', 'to', place.error)]);
  const isOfDesk = ({ desk }: JournalSummary): boolean =>
    place === null || (desk.host === place.value.host && desk.port === (place.value.port ?? desk.port));
  const folder = journalFolder(asked);
  const listed = await listJournals(folder);
  if (!listed.ok) return listed;
  const journals = listed.value.filter(isReadJournal);
  // One that fell short is to be done again, and one to another desk put nothing back here.
  const isPutBack = (push: JournalSummary): boolean =>
    journals.some(
      ({ restores, outcome, desk }) =>
        restores === push.startedAt &&
        outcome?.result === 'done' &&
        desk.host === push.desk.host &&
        desk.port === push.desk.port,
    );
  const at = listed.value.findIndex(
    (each) => isReadJournal(each) && leavesWork(each) && isOfDesk(each) && !isPutBack(each),
  );
  const journal = listed.value[at];
  if (journal && isReadJournal(journal)) {
    const newer = listed.value.slice(0, at).filter((each): each is UnreadJournal => !isReadJournal(each));
    return ok({ journal, passedOver: newer.filter((each) => !isEmptyJournal(each)) });
  }
  const where = to === undefined ? '' : ` to ${quote(to)}`;
  const told = `There is no journal of a push${where}, or of a learning there that was broken off, in ${printable(folder)} that has not been put back since. Name the journal that is meant.`;
  return fail([problem('journal-missing', '', told)]);
};
