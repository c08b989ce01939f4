import { problem } from '../../../model/problem.js';
import { linkwitzRileySlopes } from '../filter-forms.js';
import { intentRule } from './intent-rule.js';

/** Linkwitz-Riley cuts come in steps of 12 dB per octave. */
export const linkwitzRileySlope = intentRule('linkwitz-riley-slope', ({ family, slopeDbPerOctave }, path) =>
  family !== 'linkwitz-riley' ||
  slopeDbPerOctave === undefined ||
  linkwitzRileySlopes.includes(slopeDbPerOctave)
    ? []
    : [
        problem(
          linkwitzRileySlope.name,
          `${path}.slopeDbPerOctave`,
          `No Linkwitz-Riley cut has ${slopeDbPerOctave} dB per octave; allowed are ${linkwitzRileySlopes.join(', ')}.`,
        ),
      ],
);
