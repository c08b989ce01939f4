import type { Desk } from '../../model/desk.js';
import type { FoundValue, Journal, JournalOutcome, JournalSlot } from '../../model/journal.js';
import type { Outcome } from '../../model/problem.js';
import { asFoundArgument } from '../plan/plan-restore.js';
import { readbackType, showArgument } from '../plan/readback.js';
import type { MixReport } from './report.js';
import type { SurveyedMix, SurveyedSlot } from './survey.js';

/** Where the journal of one push goes. */
export interface JournalKeeper {
  /** Where it is kept, for people: a file's path. */
  readonly place: string;
  /** Fulfilled once the journal is safe from a crash; what was stored before is replaced whole, or stays. */
  store(journal: Journal): Promise<Outcome<void>>;
}

const foundIn = ({ plan, found }: SurveyedSlot, desk: Desk): readonly FoundValue[] => {
  const type = readbackType(plan, found, desk);
  return plan.parameters.flatMap((parameter): FoundValue[] => {
    const read = found.get(parameter.name);
    const argument = read && asFoundArgument(read);
    if (!read || !argument) return [];
    const { name, address } = parameter;
    return [{ parameter: name, address, argument, display: showArgument(parameter, read, type) }];
  });
};

/** The journal of what was found, before anything is written. */
export const makeJournal = (
  mixes: readonly SurveyedMix[],
  desk: Desk,
  facts: Pick<Journal, 'purpose' | 'startedAt' | 'title' | 'desk' | 'restores'>,
): Journal => ({
  format: 'bandwright-journal/1',
  purpose: facts.purpose,
  startedAt: facts.startedAt,
  title: facts.title,
  ...(facts.restores === undefined ? {} : { restores: facts.restores }),
  desk: facts.desk,
  target: desk.target,
  mixes: mixes.map(({ plan, names, slots }) => ({
    name: plan.name,
    outputs: plan.outputs,
    names: plan.outputs.flatMap((output, index) => {
      const name = names[index] ?? null;
      return name === null ? [] : [{ output, name }];
    }),
    slots: slots.map(
      (slot): JournalSlot => ({
        output: slot.plan.output,
        slot: slot.plan.slot.id,
        found: foundIn(slot, desk),
      }),
    ),
  })),
  outcome: null,
});

/** How it ended, from how each mix was left; the journal tells of the mixes it holds. */
export const journalOutcome = (
  { mixes }: Journal,
  reports: readonly MixReport[],
  { endedAt, lost, interrupted }: { endedAt: string; lost: boolean; interrupted: boolean },
): JournalOutcome => {
  const isGood = reports.every(({ state }) => state === 'applied' || state === 'unchanged');
  return {
    endedAt,
    result: lost ? 'desk-lost' : interrupted ? 'interrupted' : isGood ? 'done' : 'falls-short',
    mixes: reports.flatMap(({ name, state }) =>
      mixes.some((mix) => mix.name === name) ? [{ name, state }] : [],
    ),
  };
};
