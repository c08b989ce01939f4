import { knobNames } from '../../../model/knob.js';
import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import { slotTypeRule } from './slot-type-rule.js';

/** Every grid a knob names is one of the target's quantisers. */
export const gridsExist = slotTypeRule('grids-exist', ({ offered, path }, { quantisers }) =>
  knobNames.flatMap((knob) => {
    const reference = offered[knob];
    if (typeof reference !== 'string' || Object.hasOwn(quantisers, reference)) return [];
    const names = Object.keys(quantisers);
    const hint = didYouMean(reference, names) || '.';
    const message = `No quantiser is called ${quote(reference)}${hint} There are: ${listed(names)}.`;
    return [problem(gridsExist.name, `${path}.${knob}`, message)];
  }),
);
