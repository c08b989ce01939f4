import { familySlopes } from '../../../filters/slopes.js';
import { type Problem, problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { slotTypeRule } from './slot-type-rule.js';

/** A family lays out a cut with a slope; a Linkwitz-Riley one comes in steps of 12 dB per octave. */
export const slotFamily = slotTypeRule('slot-family', ({ offered, path }): readonly Problem[] => {
  const { family, slope } = offered;
  if (family === undefined) return [];
  if (slope === undefined) {
    const message = `${quote(family)} would be dropped: a family goes with a slope knob only. Give slope or take family out.`;
    return [problem(slotFamily.name, `${path}.family`, message)];
  }
  if (
    family !== 'linkwitz-riley' ||
    typeof slope === 'string' ||
    familySlopes['linkwitz-riley'].includes(slope)
  )
    return [];
  const message = `No Linkwitz-Riley cut has ${slope} dB per octave; allowed are ${familySlopes['linkwitz-riley'].join(', ')}.`;
  return [problem(slotFamily.name, `${path}.slope`, message)];
});
