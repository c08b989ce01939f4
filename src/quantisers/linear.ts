import { decimalRuns } from './decimals.js';
import { aboveZero, finite, readParameters } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/** Equal steps in exact decimals; the range must be a whole number of them. */
export const linear: QuantiserKind = {
  kind: 'linear',
  summary: 'equal steps in exact decimals: from, to, step',
  create: (spec) => {
    const read = readParameters(spec, { from: finite, to: finite, step: aboveZero });
    if (!read.ok) return read;
    const { from, to, step } = read.value;
    return decimalRuns(from, [{ to, step, at: '' }]);
  },
};
