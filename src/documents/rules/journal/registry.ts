import type { Journal } from '../../../model/journal.js';
import type { Rule } from '../rule.js';
import { targetRules } from '../target/registry.js';
import { daysExist } from './days-exist.js';
import { foundAddressesDiffer } from './found-addresses-differ.js';
import { foundArguments } from './found-arguments.js';
import { foundAsEncoded } from './found-as-encoded.js';
import { foundOnce } from './found-once.js';
import { inTarget } from './in-target.js';
import { outputsExist } from './outputs-exist.js';
import { outputsOfOneJournalMix } from './outputs-of-one-mix.js';
import { slotsExist } from './slots-exist.js';
import { slotsOfOwnOutputs } from './slots-of-own-outputs.js';
import { targetHasOsc } from './target-has-osc.js';
import { uniqueJournalMixNames } from './unique-mix-names.js';

/** What holds for journals, which are put back on real desks and may have been edited by hand. */
export const journalRules: readonly Rule<Journal>[] = [
  daysExist,
  ...targetRules.map(inTarget),
  targetHasOsc,
  uniqueJournalMixNames,
  outputsExist,
  outputsOfOneJournalMix,
  slotsOfOwnOutputs,
  slotsExist,
  foundOnce,
  foundAddressesDiffer,
  foundArguments,
  foundAsEncoded,
];
