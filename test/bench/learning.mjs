import { learnGrid, makeQuantiser, parseReadings } from '../../dist/index.js';
import { interleave, median } from './rounds.mjs';

const shown = (value, digits, decimals) => {
  if (decimals !== null) return value.toFixed(decimals);
  const size = value >= 1000 ? value / 1000 : value;
  const places = Math.max(0, digits - String(Math.trunc(size)).length);
  return `${size.toFixed(places)}${value >= 1000 ? 'k' : ''}`;
};

/** A knob's readings: both stops, one click and many from each, and places spread over the rest. */
const readingsOf = ({ knob, spec, digits, decimals }, count) => {
  const { value: grid } = makeQuantiser(spec);
  const last = grid.count - 1;
  const at = (step) => shown(grid.valueAt(step), digits, decimals);
  const parts = [
    `${at(last)} top`,
    `1 click down ${at(last - 1)}`,
    `.. ${at(0)} bottom`,
    `1 click up ${at(1)}`,
  ];
  const spread = count - parts.length;
  for (let i = 0; i < spread; i++) parts.push(`.. ${at(Math.round((last * (i + 1)) / (spread + 1)))}`);
  const readings = parseReadings(parts.join(' '), knob);
  if (!readings.ok) throw new Error(readings.error);
  return readings.value;
};

const frequency = { kind: 'geometric', from: 20, to: 20000, count: 201 };

const knobs = [
  { name: 'frequency, geometric, 3 digits', knob: 'frequency', spec: frequency, digits: 3, decimals: null },
  { name: 'frequency, geometric, 4 digits', knob: 'frequency', spec: frequency, digits: 4, decimals: null },
  {
    name: 'gain, steps of 0.5 dB',
    knob: 'gain',
    spec: { kind: 'linear', from: -15, to: 15, step: 0.5 },
    digits: 0,
    decimals: 1,
  },
  {
    name: 'Q, geometric',
    knob: 'q',
    spec: { kind: 'geometric', from: 0.3, to: 16, count: 72 },
    digits: 0,
    decimals: 2,
  },
];

const counts = [5, 10, 20, 40];

/** From readings to grids, by how many readings; forty as a ratio to ten. */
export const measureLearning = async (rounds) => {
  const measured = [];
  for (const each of knobs) {
    const tasks = Object.fromEntries(
      counts.map((count) => {
        const readings = readingsOf(each, count);
        const { candidates } = learnGrid(readings);
        const isThere = candidates.some(
          (candidate) => JSON.stringify(candidate.spec) === JSON.stringify(each.spec),
        );
        if (!isThere) throw new Error(`${each.name} is not recovered from ${count} readings`);
        return [count, () => learnGrid(readings)];
      }),
    );
    const milliseconds = await interleave(tasks, rounds);
    const medians = Object.fromEntries(counts.map((count) => [count, median(milliseconds[count])]));
    measured.push({ name: each.name, counts, medians, growth: medians[40] / medians[10], milliseconds });
  }
  return measured;
};
