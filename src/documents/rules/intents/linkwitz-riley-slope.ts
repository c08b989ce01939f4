import { familySlopes } from '../../../filters/slopes.js';
import { problem } from '../../../model/problem.js';
import { intentRule } from './intent-rule.js';

/** Linkwitz-Riley cuts come in steps of 12 dB per octave. */
export const linkwitzRileySlope = intentRule('linkwitz-riley-slope', ({ family, slopeDbPerOctave }, path) =>
  family !== 'linkwitz-riley' ||
  slopeDbPerOctave === undefined ||
  familySlopes['linkwitz-riley'].includes(slopeDbPerOctave)
    ? []
    : [
        problem(
          linkwitzRileySlope.name,
          `${path}.slopeDbPerOctave`,
          `No Linkwitz-Riley cut has ${slopeDbPerOctave} dB per octave; allowed are ${familySlopes['linkwitz-riley'].join(', ')}.`,
        ),
      ],
);
