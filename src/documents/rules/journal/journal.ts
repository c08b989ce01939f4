import type { Journal } from '../../../model/journal.js';
import { joinPaths } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import { outputsOfOneMix, uniqueMixNames } from '../mixes.js';
import { type Breach, type Rule, rule } from '../rule.js';
import { targetRules } from '../target/target.js';
import { foundRules, slotsIn } from './found.js';

/** How many days a month of the Gregorian calendar has. */
const daysIn = (year: number, month: number): number => {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
};

const dayBreach = (instant: string, path: string): readonly Breach[] => {
  const [year = 0, month = 0, day = 0] = instant.slice(0, 10).split('-').map(Number);
  const last = daysIn(year, month);
  return day <= last ? [] : [[path, `${quote(instant)} is no day: that month has ${last}. Correct it.`]];
};

/** The times are those of days that exist. */
const daysExist: Rule<Journal> = rule('days-exist', ({ startedAt, outcome }) => [
  ...dayBreach(startedAt, 'startedAt'),
  ...(outcome ? dayBreach(outcome.endedAt, 'outcome.endedAt') : []),
]);

/** A rule about targets, held to the target inside a journal. */
const inTarget = ({ name, check }: Rule<Target>): Rule<Journal> => ({
  name,
  check: ({ target }) => check(target).map((each) => ({ ...each, path: joinPaths('target', each.path) })),
});

/** The target says how OSC reaches it: nothing was found otherwise, and nothing could be put back. */
const targetHasOsc: Rule<Journal> = rule('target-has-osc', ({ target }) => {
  const message =
    'The target does not say how OSC reaches it, so nothing can be put back; give the osc it had.';
  return target.osc ? [] : [['target.osc', message]];
});

/** Every output is one the target has. */
const outputsExist: Rule<Journal> = rule('outputs-exist', ({ mixes, target: { outputs: desk } }) =>
  mixes.flatMap(({ outputs }, mix) =>
    outputs.flatMap((output, index): readonly Breach[] => {
      const message = `Output ${output} is beyond the target's ${desk.count}; correct it, or target.outputs.count.`;
      return output <= desk.count ? [] : [[`mixes[${mix}].outputs[${index}]`, message]];
    }),
  ),
);

/** The slots of a mix are slots of its own outputs: putting one mix back touches no other. */
const slotsOfOwnOutputs: Rule<Journal> = rule('slots-of-own-outputs', (journal) =>
  slotsIn(journal)
    .filter(({ slot, mix }) => !mix.outputs.includes(slot.output))
    .map(({ slot, mix, path }) => [
      `${path}.output`,
      `Output ${slot.output} is none of mix ${quote(mix.name)}, which has ${mix.outputs.join(' and ')}; correct one of them.`,
    ]),
);

/** Every slot is one of the target's. */
const slotsExist: Rule<Journal> = rule('slots-exist', (journal) => {
  const ids = journal.target.slots.map(({ id }) => id);
  return slotsIn(journal)
    .filter(({ slot }) => !ids.includes(slot.slot))
    .map(({ slot, path }) => {
      const hint = didYouMean(slot.slot, ids) || '.';
      return [`${path}.slot`, `The target has no slot ${quote(slot.slot)}${hint} There are: ${listed(ids)}.`];
    });
});

/** What holds for journals, which are put back on real desks and may have been edited by hand. */
export const journalRules: readonly Rule<Journal>[] = [
  daysExist,
  ...targetRules.map(inTarget),
  targetHasOsc,
  uniqueMixNames,
  outputsExist,
  outputsOfOneMix,
  slotsOfOwnOutputs,
  slotsExist,
  ...foundRules,
];
