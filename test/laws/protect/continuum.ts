/**
 * The most of a curve over a band, by looking densely and by golden section round every peak: it shares nothing with
 * how the figures are worked out. Curves here have no peak that a hundredth of an octave above 8 kHz, or a
 * twenty-fourth below it, could miss: the cases have no narrower filters.
 */

/** A curve: frequencies in, a level for each. */
export type Curve = (frequenciesHz: Float64Array) => Float64Array;

/** So many points from one end to the other, both included. */
export const evenPoints = (fromHz: number, toHz: number, count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => fromHz + ((toHz - fromHz) * i) / (count - 1));

/** 24 points an octave below 8 kHz, 100 above it, both ends included. */
export const densePoints = (fromHz: number, toHz: number): Float64Array => {
  const points: number[] = [];
  for (let f = fromHz; f < toHz * (1 - 1e-12); f *= 2 ** (1 / (f < 8000 ? 24 : 100))) points.push(f);
  return Float64Array.from([...points, toHz]);
};

const at = (curve: Curve, frequencyHz: number): number => curve(Float64Array.of(frequencyHz))[0] as number;

const golden = (Math.sqrt(5) - 1) / 2;

/** The top of the one peak between two frequencies. */
const peak = (curve: Curve, fromHz: number, toHz: number): number => {
  let [low, high] = [fromHz, toHz];
  let [a, b] = [high - golden * (high - low), low + golden * (high - low)];
  let [atA, atB] = [at(curve, a), at(curve, b)];
  while (high - low > 1e-7 * toHz) {
    if (atA > atB) {
      [high, b, atB] = [b, a, atA];
      a = high - golden * (high - low);
      atA = at(curve, a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + golden * (high - low);
      atB = at(curve, b);
    }
  }
  return Math.max(atA, atB);
};

/** The most of a curve over a band told by its points; `floor` where it is nowhere above that. */
export const most = (curve: Curve, points: Float64Array, floor: number): number => {
  const levels = curve(points);
  let best = Math.max(floor, ...levels);
  levels.forEach((level, i) => {
    const [before, after] = [levels[i - 1] ?? level, levels[i + 1] ?? level];
    if (level < before || level < after) return;
    // A smooth peak rises above its highest point by less than that stands above its neighbours.
    if (level + Math.max(level - before, level - after) <= best && level < best) return;
    best = Math.max(
      best,
      peak(curve, points[i - 1] ?? (points[i] as number), points[i + 1] ?? (points[i] as number)),
    );
  });
  return best;
};

/** Where a curve crosses a level between two frequencies. */
const crossing = (curve: Curve, belowHz: number, aboveHz: number, level: number): number => {
  let [below, above] = [belowHz, aboveHz];
  for (let i = 0; i < 60; i++) {
    const middle = (below + above) / 2;
    if (at(curve, middle) > level) above = middle;
    else below = middle;
  }
  return below;
};

/** A band in the stretches in which a curve lies above a level, and those in which it does not. */
export const stretches = (
  curve: Curve,
  points: Float64Array,
  level: number,
): readonly { readonly points: Float64Array; readonly isAbove: boolean }[] => {
  const isAbove = Array.from(curve(points), (each) => each > level);
  const made: { points: number[]; isAbove: boolean }[] = [];
  points.forEach((hz, i) => {
    const last = made[made.length - 1];
    const [is, before] = [isAbove[i] === true, points[i - 1] as number];
    if (!last) made.push({ points: [hz], isAbove: is });
    else if (last.isAbove === is) last.points.push(hz);
    else {
      const edge = is ? crossing(curve, before, hz, level) : crossing(curve, hz, before, level);
      last.points.push(edge);
      made.push({ points: [edge, hz], isAbove: is });
    }
  });
  return made.map((each) => ({ ...each, points: Float64Array.from(each.points) }));
};
