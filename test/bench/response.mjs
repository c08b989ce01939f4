import { OfflineAudioContext } from 'node-web-audio-api';
import { buildChain, magnitudeDb, magnitudeSquared } from '../../dist/index.js';
import { interleave, median } from './rounds.mjs';

const sampleRateHz = 48000;
const points = 4096;
/** Calls in one measurement, so that it lasts milliseconds. */
const calls = 50;

const chains = {
  'one bell': [{ type: 'peaking', frequencyHz: 19000, q: 8, gainDb: -15 }],
  'low cut, bell, high cut': [
    { type: 'highpass', frequencyHz: 40, q: Math.SQRT1_2 },
    { type: 'peaking', frequencyHz: 19000, q: 8, gainDb: -15 },
    { type: 'lowpass', frequencyHz: 15000, q: Math.SQRT1_2 },
  ],
};

/** 20 Hz to 20 kHz by ratio, each a number that single precision holds. */
const frequencies = Float32Array.from({ length: points }, (_, i) => 20 * 1000 ** (i / (points - 1)));

/** The same filters as nodes of the W3C Web Audio API, where Q of the cuts is in dB. */
const theirNodes = (filters) => {
  const context = new OfflineAudioContext(1, 1, sampleRateHz);
  return filters.map(({ type, frequencyHz, q, gainDb }) => {
    const node = context.createBiquadFilter();
    node.type = type;
    node.frequency.value = frequencyHz;
    node.Q.value = type === 'peaking' ? q : 20 * Math.log10(q);
    node.gain.value = gainDb ?? 0;
    return node;
  });
};

/** The magnitude of a chain by their `getFrequencyResponse`, which tells one filter: a product over the nodes. */
const theirMagnitude = (nodes, product, magnitude, phase) => {
  product.fill(1);
  for (const node of nodes) {
    node.getFrequencyResponse(frequencies, magnitude, phase);
    for (let i = 0; i < points; i++) product[i] *= magnitude[i];
  }
};

/** The farthest the two are apart, in dB: whoever compares speeds must know that both compute the same. */
const apartDb = (levels, product) =>
  levels.reduce((most, level, i) => Math.max(most, Math.abs(level - 20 * Math.log10(product[i]))), 0);

const measureChain = async (name, filters, rounds) => {
  const sections = buildChain(filters, {
    id: 'bench',
    design: 'cookbook',
    qMeaning: 'cookbook',
    sampleRateHz,
  });
  const ours = Float64Array.from(frequencies);
  const out = new Float64Array(points);
  const nodes = theirNodes(filters);
  const [product, magnitude, phase] = [1, 2, 3].map(() => new Float32Array(points));
  const repeated = (call) => () => {
    for (let i = 0; i < calls; i++) call();
  };
  const tasks = {
    magnitudeSquared: repeated(() => magnitudeSquared(sections, ours, out)),
    magnitudeDb: repeated(() => magnitudeDb(sections, ours, out)),
    getFrequencyResponse: repeated(() => theirMagnitude(nodes, product, magnitude, phase)),
  };
  const taken = await interleave(tasks, rounds);
  tasks.getFrequencyResponse();
  tasks.magnitudeDb();
  const pointsPerSecond = Object.fromEntries(
    Object.entries(taken).map(([key, values]) => [key, (1000 * points * calls) / median(values)]),
  );
  return { name, points, calls, apartDb: apartDb(out, product), pointsPerSecond, milliseconds: taken };
};

/** Response points per second, ours beside node-web-audio-api's, for the same filters at the same points. */
export const measureResponse = async (rounds) => {
  const measured = [];
  for (const [name, filters] of Object.entries(chains)) {
    measured.push(await measureChain(name, filters, rounds));
  }
  return measured;
};
