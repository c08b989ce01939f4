import { buildChain, magnitudeDb, nearestStep } from '../../dist/index.js';

const attenuationAt = (filters, realisation, frequenciesHz) => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(buildChain(filters, realisation), frequenciesHz, out);
  return out.map((gainDb) => -gainDb);
};

const points = (fromHz, toHz) => {
  const frequenciesHz = [];
  for (let hz = fromHz; hz < toHz; hz *= 2 ** (1 / 24)) frequenciesHz.push(hz);
  return [...frequenciesHz, toHz];
};

const valuesOf = ({ count, valueAt }) => Array.from({ length: count }, (_, step) => valueAt(step));

/** A third of an octave from what is asked: beyond it a filter serves something else. */
const near = (askedHz, grid) =>
  valuesOf(grid).filter((frequencyHz) => Math.abs(Math.log2(frequencyHz / askedHz)) <= 1 / 3 + 1e-12);

/**
 * The best high cut and bell, by looking at every one beside every other: no bound, no order, nothing left out that may
 * serve. Only
 * what each filter takes is worked out once. `every` looks at one bell in so many.
 */
export const exhaustive = (slotTypes, fixed, realisation, scope, every = 1) => {
  const window = Array.from({ length: 9 }, (_, i) => scope.pilotHz + scope.windowHz * (i / 4 - 1));
  const keep = points(scope.keepLowHz, scope.keepHighHz);
  const frequenciesHz = Float64Array.from([...window, ...keep, ...points(20, 20000)]);
  const [keepFrom, riseFrom] = [window.length, window.length + keep.length];
  const base = attenuationAt(fixed, realisation, frequenciesHz);
  const { lowpass, peaking } = slotTypes;
  const highCuts = near(15000, lowpass.grids.frequency).map((frequencyHz) =>
    attenuationAt([{ type: 'lowpass', frequencyHz, slopeDbPerOctave: 12 }], realisation, frequenciesHz),
  );
  const zero = nearestStep(peaking.grids.gain, 0, { measure: 'difference', tie: 'down' });
  const gains = valuesOf(peaking.grids.gain).slice(0, zero + 1);
  let best = -Infinity;
  let looked = 0;
  let bells = 0;
  for (const frequencyHz of near(19000, peaking.grids.frequency)) {
    for (const q of valuesOf(peaking.grids.q)) {
      for (const gainDb of gains) {
        if (bells++ % every !== 0) continue;
        const bell = attenuationAt([{ type: 'peaking', frequencyHz, q, gainDb }], realisation, frequenciesHz);
        for (const highCut of highCuts) {
          looked++;
          let least = Infinity;
          let loss = -Infinity;
          let rise = -Infinity;
          for (let i = 0; i < frequenciesHz.length; i++) {
            const takenDb = base[i] + highCut[i] + bell[i];
            if (i < keepFrom) least = Math.min(least, takenDb);
            else if (i < riseFrom) loss = Math.max(loss, takenDb);
            else rise = Math.max(rise, -takenDb);
          }
          if (loss <= scope.keepLossAtMostDb && rise <= scope.riseAtMostDb && least > best) best = least;
        }
      }
    }
  }
  return { pilotAttenuationDb: best, looked };
};
