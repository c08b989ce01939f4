import { makeQuantiser } from '../../quantisers/registry.js';
import { itemAt } from '../../units/at.js';
import { intervalOf } from '../chains.js';
import type { Interval } from '../reading.js';
import { digitsOf, simplestIn } from '../simplest.js';
import type { GridFamily, KnobEvidence } from './family.js';
import { explainFixed } from './fixed-grid.js';

/** The values one after another, where every one from stop to stop was read; null where one is missing. */
const listOf = ({ chains, readings, lastDigit }: KnobEvidence): readonly number[] | null => {
  const whole = chains.find(
    (chain) => chain.some(({ stop }) => stop === 'bottom') && chain.some(({ stop }) => stop === 'top'),
  );
  if (!whole) return null;
  const clicks = whole.map((each) => each.clicks);
  const first = Math.min(...clicks);
  const intervals: (Interval | undefined)[] = Array.from({ length: Math.max(...clicks) - first + 1 });
  for (const { at, clicks: place } of whole) {
    const read = intervalOf(itemAt(readings, at), lastDigit);
    const before = intervals[place - first] ?? read;
    intervals[place - first] = {
      least: Math.max(before.least, read.least),
      most: Math.min(before.most, read.most),
    };
  }
  const values = intervals.flatMap((interval) =>
    interval && interval.least <= interval.most ? [simplestIn(interval)] : [],
  );
  return values.length === intervals.length &&
    values.every((value, at) => at === 0 || value > itemAt(values, at - 1))
    ? values
    : null;
};

/** No rule: the values themselves, once every one was read. */
export const wholeList: GridFamily = {
  explain: (evidence) => {
    const values = listOf(evidence);
    if (!values) return { explanations: [], areMore: false };
    const spec = { kind: 'table', values };
    const grid = makeQuantiser(spec);
    if (!grid.ok) return { explanations: [], areMore: false };
    const complexity = 1 + values.reduce((sum, value) => sum + 0.8 * digitsOf(value), 0);
    const say = () => ({ spec, complexity, reasons: ['every value was read'] });
    return {
      explanations: explainFixed({ name: `list ${values.join(' ')}`, grid: grid.value, say }, evidence),
      areMore: false,
    };
  },
};
