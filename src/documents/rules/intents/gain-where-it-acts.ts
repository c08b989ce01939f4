import { problem } from '../../../model/problem.js';
import { typeWords } from '../../../model/words.js';
import { filterForms } from '../filter-forms.js';
import { intentRule } from './intent-rule.js';

/** Bells and shelves have a gain; on any other type it would be dropped. */
export const gainWhereItActs = intentRule('gain-where-it-acts', ({ type, gainDb }, path) => {
  const { gain } = filterForms[type];
  if (gain === (gainDb !== undefined)) return [];
  const message = gain
    ? `A ${typeWords[type]} needs a gain; give gainDb.`
    : `A ${typeWords[type]} has no gain, so ${gainDb} dB would be dropped; take gainDb out.`;
  return [problem(gainWhereItActs.name, `${path}.gainDb`, message)];
});
