import { widthForms, widthFormsByType } from '../../../filters/filter.js';
import { problem } from '../../../model/problem.js';
import { typeWords } from '../../../model/words.js';
import { filterForms } from '../filter-forms.js';
import { intentRule } from './intent-rule.js';

/** An intent tells its width in exactly one of the forms its type has; a shelf may leave it out. */
export const oneWidthForm = intentRule('one-width-form', (intent, path) => {
  const allowed = widthFormsByType[intent.type];
  const { widthMayBeLeftOut } = filterForms[intent.type];
  const keys = widthForms.filter((key) => intent[key] !== undefined);
  const [only, ...more] = keys;
  if (only === undefined ? widthMayBeLeftOut : more.length === 0 && allowed.includes(only)) return [];
  const stands = keys.length === 0 ? 'tells no width' : `tells its width by ${keys.join(' and ')}`;
  const needed = widthMayBeLeftOut ? 'at most one' : 'exactly one';
  return [
    problem(
      oneWidthForm.name,
      path,
      `This ${typeWords[intent.type]} ${stands}; give ${needed}: ${allowed.join(' or ')}.`,
    ),
  ];
});
