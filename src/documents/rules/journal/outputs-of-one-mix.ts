import type { Journal } from '../../../model/journal.js';
import { overlappingOutputs } from '../overlapping-outputs.js';
import type { Rule } from '../rule.js';

/** No desk output belongs to two mixes of a journal. */
export const outputsOfOneJournalMix: Rule<Journal> = {
  name: 'outputs-of-one-mix',
  check: ({ mixes }) => overlappingOutputs(outputsOfOneJournalMix.name, mixes),
};
