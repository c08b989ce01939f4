import { itemAt } from '../../units/at.js';
import type { End, Interval } from '../reading.js';
import { digitsOf, simplestIn } from '../simplest.js';
import type { GridFamily, KnobEvidence } from './family.js';

const stopOf = ({ chains }: KnobEvidence, end: End): Interval | null =>
  chains.flat().find(({ stop }) => stop === end)?.interval ?? null;

/** Whatever a float can say: as long as nobody saw one click go from one value to another. */
export const noSteps: GridFamily = {
  explain: (evidence) => {
    const { chains, readings } = evidence;
    const isClicked = chains.some((chain) => chain.some(({ clicks }) => clicks !== 0));
    if (isClicked || evidence.count !== null) return { explanations: [], areMore: false };
    const intervals = chains.flat().map(({ interval }) => interval);
    const lowest = intervals.reduce((a, b) => (b.least < a.least ? b : a));
    const highest = intervals.reduce((a, b) => (b.most > a.most ? b : a));
    const [bottom, top] = [stopOf(evidence, 'bottom'), stopOf(evidence, 'top')];
    const [from, to] = [simplestIn(bottom ?? lowest), simplestIn(top ?? highest)];
    if (!(from < to) || (bottom && lowest.most < bottom.least) || (top && highest.least > top.most)) {
      return { explanations: [], areMore: false };
    }
    const within = (value: number) => Math.max(from, Math.min(value, to));
    return {
      explanations: [
        {
          key: 'no steps',
          spec: { kind: 'continuous', from, to },
          count: null,
          openEnds: [...(bottom ? [] : (['bottom'] as const)), ...(top ? [] : (['top'] as const))],
          complexity: 6 + digitsOf(from) + digitsOf(to),
          reasons: ['no clicks were seen'],
          neighboursOf: (value) => ({
            below: { least: value, most: value },
            at: value >= from && value <= to,
            above: { least: value, most: value },
          }),
          admits: ({ least, most }, clicked) => clicked === null && most >= from && least <= to,
          valueFrom: ({ at, clicks }) => {
            const { least, most } = itemAt(readings, at).ifRounded;
            return clicks === 0 ? (least + most) / 2 : null;
          },
          valueNear: within,
        },
      ],
      areMore: false,
    };
  },
};
