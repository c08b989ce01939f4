import { type Problem, problem } from '../../../model/problem.js';
import { typeWords } from '../../../model/words.js';
import { filterForms } from '../filter-forms.js';
import { type OfferedType, slotTypeRule } from './slot-type-rule.js';

const widthKnobs = ['q', 'bandwidth', 'slope'] as const;

const widthProblems = ({ type, offered, path }: OfferedType): readonly Problem[] => {
  const { widths, widthMayBeLeftOut } = filterForms[type];
  const found = widthKnobs.filter((knob) => offered[knob] !== undefined);
  const [only, ...more] = found;
  if (only === undefined ? widthMayBeLeftOut : more.length === 0 && widths.includes(only)) return [];
  const stands = only === undefined ? 'has no knob for its width' : `has ${found.join(' and ')}`;
  const needed = widthMayBeLeftOut ? 'at most one' : 'exactly one';
  const message = `A ${typeWords[type]} here ${stands}; give ${needed}: ${widths.join(' or ')}. A value that cannot be turned is given as a number.`;
  return [problem(knobsFitType.name, path, message)];
};

const gainProblems = ({ type, offered, path }: OfferedType): readonly Problem[] => {
  const { gain } = filterForms[type];
  if (gain === (offered.gain !== undefined)) return [];
  const message = gain
    ? `A ${typeWords[type]} needs a gain knob; give gain.`
    : `A ${typeWords[type]} has no gain; take gain out.`;
  return [problem(knobsFitType.name, `${path}.gain`, message)];
};

/** A slot offers the knobs its filter type is told by, no more and no fewer. */
export const knobsFitType = slotTypeRule('knobs-fit-type', (each) => [
  ...widthProblems(each),
  ...gainProblems(each),
]);
