import { line } from 'd3-shape';
import { itemAt } from '../units/at.js';

/** A place on a picture, in its units. */
export type Spot = readonly [x: number, y: number];

/** How far a line may lie from where it should, in units of the picture: less than anybody sees. */
const toleranceUnits = 0.15;

/** How far a place lies from the line through two others. */
const distance = ([x, y]: Spot, [fromX, fromY]: Spot, [toX, toY]: Spot): number => {
  const [acrossX, acrossY] = [toX - fromX, toY - fromY];
  const length = Math.hypot(acrossX, acrossY);
  return length === 0
    ? Math.hypot(x - fromX, y - fromY)
    : Math.abs(acrossX * (fromY - y) - acrossY * (fromX - x)) / length;
};

/** Without the places that lie on the line of those that stay (Douglas and Peucker 1973). */
const simplified = (places: readonly Spot[]): readonly Spot[] => {
  const kept = new Set([0, places.length - 1]);
  const open: [number, number][] = [[0, places.length - 1]];
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span;
    let [farthest, most] = [from, toleranceUnits];
    for (let index = from + 1; index < to; index++) {
      const away = distance(itemAt(places, index), itemAt(places, from), itemAt(places, to));
      if (away > most) [farthest, most] = [index, away];
    }
    if (farthest === from) continue;
    kept.add(farthest);
    open.push([from, farthest], [farthest, to]);
  }
  return places.filter((_, index) => kept.has(index));
};

/** The stretches of places without a gap: where something is not known nothing is drawn. */
const runs = (places: readonly Spot[]): readonly (readonly Spot[])[] => {
  const found: Spot[][] = [[]];
  for (const place of places) {
    if (place.every(Number.isFinite)) found.at(-1)?.push(place);
    else if ((found.at(-1)?.length ?? 0) > 0) found.push([]);
  }
  return found.filter((run) => run.length > 1);
};

/** A number as short as SVG reads it: `.5`, `-3`. */
const shortest = (value: number): string => String(value).replace(/^(-?)0\./, '$1.');

const tenths = (value: number): number => Math.round(value * 10) / 10;

/**
 * Where d3-shape draws to: each place from the one before it, to a tenth of a unit, which takes half the bytes. Distances
 * are between rounded places, so that nothing adds up.
 */
const relativePath = () => {
  let [atX, atY] = [0, 0];
  let data = '';
  const moved = (x: number, y: number): string => {
    const [toX, toY] = [tenths(x), tenths(y)];
    const [byX, byY] = [tenths(toX - atX), tenths(toY - atY)].map(shortest);
    [atX, atY] = [toX, toY];
    return `${byX}${byY?.startsWith('-') ? '' : ','}${byY}`;
  };
  return {
    moveTo: (x: number, y: number) => {
      data += `m${moved(x, y)}l`;
    },
    lineTo: (x: number, y: number) => {
      data += `${data.endsWith('l') ? '' : ' '}${moved(x, y)}`;
    },
    closePath: () => {
      data += 'z';
    },
    data: () => data.replace(/^m/, 'M'),
  };
};

/** Lines through places one after another, as the data of an SVG path. */
const pathOf = (linesThrough: readonly (readonly Spot[])[], closed = false): string => {
  const path = relativePath();
  const draw = line<Spot>().context(path as unknown as CanvasRenderingContext2D);
  for (const places of linesThrough) draw([...places]);
  if (closed) path.closePath();
  return path.data();
};

/** A line through places, as the data of an SVG path; broken where a place is not a number. */
export const linePath = (places: readonly Spot[]): string => pathOf(runs(places).map(simplified));

/** The area between two lines over the same x, as the data of an SVG path. */
export const areaPath = (upper: readonly Spot[], lower: readonly Spot[]): string => {
  const known = upper.flatMap((place, index) => {
    const below = itemAt(lower, index);
    return [...place, ...below].every(Number.isFinite) ? [[place, below] as const] : [];
  });
  if (known.length < 2) return '';
  const [there, back] = [known.map(([above]) => above), known.map(([, below]) => below)];
  return pathOf([[...simplified(there), ...[...simplified(back)].reverse()]], true);
};
