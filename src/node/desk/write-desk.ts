import type { MixPlan } from '../../live/plan/plan.js';
import { type MixReport, type RecipeOutcome, recipeOutcome } from '../../live/write/report.js';
import { type ProposedMix, type WriteDone, writeMixes } from '../../live/write/write-mixes.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import type { Outcome, Problem } from '../../model/problem.js';
import type { RecipeMix } from '../../model/recipe.js';
import { canBeAsked } from '../../osc/asking.js';
import { ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { type DeskOptions, never, type OpenDesk, withDesk } from './open-desk.js';
import { withJournal } from './with-journal.js';

/** Everything that is about to be written, for whoever is asked whether it may be. */
export interface Proposal {
  readonly purpose: 'push' | 'restore';
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
  /** Of a restore: the desk its journal was made at, where that is another. */
  readonly madeAt: Journal['desk'] | null;
  /** Of a restore: whether its journal was changed since it was written. */
  readonly isChanged: boolean;
  /** The file that is going to keep what stands there now, before anything is written; null where nothing can be read. */
  readonly journal: string | null;
  /** Every mix that was asked for, those that are not written to among them; with what a recipe comes to there. */
  readonly mixes: readonly (ProposedMix & Partial<RecipeOutcome>)[];
}

/** What a push and a restore need besides where the desk is. */
export interface WriteOptions extends DeskOptions {
  /** The names of the mixes to be written to; all of them where left out. */
  readonly only?: readonly string[];
  /** Where journals are kept; where left out as BANDWRIGHT_JOURNALS says, or in the user's own folder for such files. */
  readonly journalFolder?: string;
  /** Asked once everything has been read and before anything is written. Only true lets it be written. */
  readonly agree: (proposal: Proposal) => Promise<boolean>;
}

/** How a push or a restore went. */
export interface WriteReport {
  readonly purpose: 'push' | 'restore';
  /**
   * `done`: all of it stands as wanted and was read back. `falls-short`: something does not, or nothing proves it.
   * `not-agreed`: nothing was written. `interrupted`, `desk-lost`: it ended early, each mix as told.
   */
  readonly result: WriteDone['result'];
  /** Null where there was nothing to write, and no desk was spoken to. */
  readonly desk: Journal['desk'] | null;
  /** The file that keeps what was found; null where nothing was written, or nothing could be read. */
  readonly journal: string | null;
  readonly mixes: readonly (MixReport & Partial<RecipeOutcome>)[];
  readonly problems: readonly Problem[];
}

/** What a push or a restore has come to want. */
export interface Writing {
  readonly purpose: 'push' | 'restore';
  readonly title: string;
  readonly desk: Desk;
  readonly plans: readonly MixPlan[];
  /** Whether outputs may go by other names on the desk. */
  readonly acceptNames: boolean;
  /** Whether a desk that cannot be read may be written to: nothing of it is kept, and nothing proved. */
  readonly blind: boolean;
  /** The desk that was written to before: gone to where the options name none. */
  readonly from?: Journal['desk'];
  /** Whether the journal that is put back was changed since it was written. */
  readonly isChanged?: boolean;
  /** What a recipe tells of the mixes it is to set. */
  readonly recipeMixes?: readonly RecipeMix[];
  readonly restores?: string;
}

const writeOver = async (
  open: OpenDesk,
  writing: Writing,
  options: WriteOptions,
): Promise<Outcome<WriteReport>> => {
  const {
    purpose,
    title,
    desk,
    plans,
    acceptNames,
    restores,
    from,
    isChanged = false,
    recipeMixes = [],
  } = writing;
  const { session, at, destination } = open;
  const isElsewhere = from !== undefined && (from.host !== at.host || from.port !== at.port);
  const { signal = never, hardSignal = never, onProgress = () => undefined } = options;
  const withRecipe = <Named extends { readonly name: string }>(
    mix: Named,
  ): Named & Partial<RecipeOutcome> => {
    const recipe = recipeMixes.find(({ name }) => name === mix.name);
    return { ...mix, ...(recipe ? recipeOutcome(recipe) : {}) };
  };
  if (!canBeAsked(desk.target) && !writing.blind) {
    throw new Error('a desk that cannot be read is written to only where that is asked for');
  }
  return withJournal(open, desk, { purpose, folder: options.journalFolder }, async (keeper) => {
    const place = keeper?.place ?? null;
    const done = await writeMixes({
      plans,
      desk,
      session,
      clock: systemClock,
      signal,
      hardSignal,
      facts: { purpose, title, desk: at, ...(restores === undefined ? {} : { restores }) },
      acceptNames,
      keeper,
      onReading: (isReading) => onProgress(isReading ? { stage: 'reading', destination } : null),
      onMix: (mix, index, of) => onProgress({ stage: 'writing', mix, index, of }),
      agree: (mixes) =>
        options.agree({
          purpose,
          destination,
          madeAt: isElsewhere && from ? from : null,
          isChanged,
          journal: place,
          mixes: mixes.map(withRecipe),
        }),
    });
    onProgress(null);
    if (!done.ok) return done;
    const { result, reports, problems, isKept } = done.value;
    return ok({
      purpose,
      result,
      desk: at,
      journal: isKept ? place : null,
      mixes: reports.map(withRecipe),
      problems,
    });
  });
};

/**
 * Writes to a desk that no other push of this computer has meanwhile: reads it, compares names, asks, keeps what was
 * found on disk, writes, and reads everything back. Problems: as `withDesk`, `desk-busy`, `lock-unwritable`,
 * `journal-unwritable`, `journal-unfit`; what stood in the way of single mixes is told in the report.
 */
export const writeDesk = (writing: Writing, options: WriteOptions): Promise<Outcome<WriteReport>> =>
  withDesk(writing.desk, options, (open) => writeOver(open, writing, options), writing.from);
