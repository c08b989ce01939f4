import { decimalRuns, type Run } from './decimals.js';
import { aboveZero, finite, list, type ParameterRule, readParameters, readValue } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

const segmentObject: ParameterRule<object> = {
  allowed: 'an object with "to" and "step"',
  accepts: (value): value is object => typeof value === 'object' && value !== null && !Array.isArray(value),
};

/** Runs of equal steps that grow from run to run, as on a knob that steps by 0.1, 1, 10 and 100 Hz by decade. */
export const piecewiseLinear: QuantiserKind = {
  kind: 'piecewise-linear',
  summary: 'runs of equal steps in exact decimals: from, segments of to and step',
  create: (spec) => {
    const read = readParameters(spec, { from: finite, segments: list('segments', 64) });
    if (!read.ok) return read;
    const runs: Run[] = [];
    for (const [index, segment] of read.value.segments.entries()) {
      const place = `segments[${index}]`;
      const whole = readValue(place, segment, segmentObject);
      if (!whole.ok) return whole;
      const parts = readParameters(whole.value, { to: finite, step: aboveZero }, `${place}.`);
      if (!parts.ok) return parts;
      runs.push({ ...parts.value, at: `${place}.` });
    }
    return decimalRuns(read.value.from, runs);
  },
};
