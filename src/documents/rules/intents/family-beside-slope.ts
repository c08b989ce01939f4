import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { intentRule } from './intent-rule.js';

/** A family lays out a cut with a slope; anywhere else it would be dropped. */
export const familyBesideSlope = intentRule('family-beside-slope', ({ family, slopeDbPerOctave }, path) =>
  family === undefined || slopeDbPerOctave !== undefined
    ? []
    : [
        problem(
          familyBesideSlope.name,
          `${path}.family`,
          `${quote(family)} would be dropped: a family goes with slopeDbPerOctave only. Give a slope or take the family out.`,
        ),
      ],
);
