/* The response of a chain as a product of ratios, and how far it can reach between two places. */
import { itemAt } from '../units/at.js';
import type { Section } from './section.js';

/**
 * |H|² of one section is N/D with both of the form (p − q y)² + t y (1 − k y): y is sin²(ω/2) and k is 1 for a digital
 * section, y is f² and k is 0 for an analogue one (see `response.ts`, whose sums they are).
 */
interface Square {
  readonly p: number;
  readonly q: number;
  readonly t: number;
}

interface Ratio {
  readonly over: Square;
  readonly under: Square;
}

const squareOf = (
  c0: number,
  c1: number,
  c2: number,
  { domain, rateHz }: Pick<Section, 'domain' | 'rateHz'>,
): Square =>
  domain === 'z'
    ? { p: c0 + c1 + c2, q: 2 * (c0 + c2), t: 4 * (c0 - c2) ** 2 }
    : { p: c0, q: c2 / rateHz ** 2, t: (c1 / rateHz) ** 2 };

const isSame = ({ over, under }: Ratio): boolean =>
  over.p === under.p && over.q === under.q && over.t === under.t;

/** A chain as a product of ratios in one y; where that is upside down, its greatest is the chain's least. */
export interface RatioChain {
  readonly ratios: readonly Ratio[];
  readonly k: 0 | 1;
  readonly yAt: (frequencyHz: number) => number;
}

export const ratioChainOf = (sections: readonly Section[], isUpsideDown: boolean): RatioChain => {
  const [first] = sections;
  const isOne = ({ domain, rateHz }: Section): boolean =>
    domain === first?.domain && (domain === 's' || rateHz === first.rateHz);
  if (!sections.every(isOne)) throw new RangeError('a chain has sections of one domain and one sample rate');
  const ratios = sections.map((section): Ratio => {
    const { b0, b1, b2, a0, a1, a2 } = section;
    const [b, a] = [squareOf(b0, b1, b2, section), squareOf(a0, a1, a2, section)];
    return isUpsideDown ? { over: a, under: b } : { over: b, under: a };
  });
  const rateHz = first?.rateHz ?? 1;
  return {
    // All-passes change nothing.
    ratios: ratios.filter((ratio) => !isSame(ratio)),
    k: first?.domain === 'z' ? 1 : 0,
    yAt:
      first?.domain === 'z'
        ? (frequencyHz) => Math.sin((Math.PI * frequencyHz) / rateHz) ** 2
        : (frequencyHz) => frequencyHz * frequencyHz,
  };
};

/** At one y ln|H|², then of each ratio N, D and N′D − ND′, which over ND is the slope of ln(N/D). */
export type Place = readonly number[];

const perRatio = 3;

export const placeAt = ({ ratios, k }: RatioChain, y: number): Place => {
  const place = [0];
  const s = y * (1 - k * y);
  const sSlope = 1 - 2 * k * y;
  let value = 1;
  for (const { over, under } of ratios) {
    const b = over.p - over.q * y;
    const a = under.p - under.q * y;
    const n = b * b + over.t * s;
    const d = a * a + under.t * s;
    // Taken from the squares one by one: expanded into powers of y, the slope of a narrow bell would drown in rounding.
    const slope =
      2 * a * b * (over.p * under.q - over.q * under.p) -
      under.t * b * (2 * over.q * s + b * sSlope) +
      over.t * a * (2 * under.q * s + a * sSlope);
    value *= n / d;
    place.push(n, d, slope);
  }
  place[0] = Math.log(value);
  return place;
};

/** The real roots of c0 + c1 y + c2 y²; of a pair that is not real, what both have in common. */
const rootsOf = (c0: number, c1: number, c2: number): readonly number[] => {
  if (c2 === 0) return [-c0 / c1];
  const half = -(c1 + Math.sign(c1 || 1) * Math.sqrt(Math.max(0, c1 * c1 - 4 * c0 * c2))) / 2;
  return [half / c2, c0 / half];
};

/** N, D and N′D − ND′ are parabolas: where they turn, and where the last crosses zero. */
const turnsOfRatio = ({ over, under }: Ratio, k: number): readonly number[] => {
  const powers = ({ p, q, t }: Square) => [p * p, t - 2 * p * q, q * q - k * t] as const;
  const [n0, n1, n2] = powers(over);
  const [d0, d1, d2] = powers(under);
  const [s0, s1, s2] = [n1 * d0 - n0 * d1, 2 * (n2 * d0 - n0 * d2), n2 * d1 - n1 * d2];
  return [-n1 / (2 * n2), -d1 / (2 * d2), -s1 / (2 * s2), ...rootsOf(s0, s1, s2)];
};

/** Every y at which something of a ratio turns: between two of them all of it only rises or only falls. */
export const turnsOf = ({ ratios, k }: RatioChain): readonly number[] =>
  ratios.flatMap((ratio) => turnsOfRatio(ratio, k));

/**
 * No more than this can ln|H|² reach between two places, where each of N, D and N′D − ND′ only rises or only falls.
 *
 * Each ratio then only rises or only falls itself, so that none exceeds the greater of its ends: nor does their product
 * exceed the product of those. And the slope of each lies between the least and the most of N′D − ND′ over the most or
 * least of ND, all of them at the ends; within the sums of those, the curve lies below the line that leaves the left end at
 * the most slope and the one that comes to the right end at the least.
 */
export const boundBetween = (left: Place, right: Place, width: number): number => {
  let product = 1;
  let [most, least] = [0, 0];
  for (let i = 1; i < left.length; i += perRatio) {
    const [nLeft, nRight] = [itemAt(left, i), itemAt(right, i)];
    const [dLeft, dRight] = [itemAt(left, i + 1), itemAt(right, i + 1)];
    const [sLeft, sRight] = [itemAt(left, i + 2), itemAt(right, i + 2)];
    product *= Math.max(nLeft / dLeft, nRight / dRight);
    const [low, high] = [
      Math.min(nLeft, nRight) * Math.min(dLeft, dRight),
      Math.max(nLeft, nRight) * Math.max(dLeft, dRight),
    ];
    const [down, up] = [Math.min(sLeft, sRight), Math.max(sLeft, sRight)];
    most += up / (up > 0 ? low : high);
    least += down / (down < 0 ? low : high);
  }
  const plain = Math.log(product);
  const [from, to] = [itemAt(left, 0), itemAt(right, 0)];
  if (least >= 0) return Math.min(plain, to);
  if (most <= 0) return Math.min(plain, from);
  const tent = (most * (to - least * width) - least * from) / (most - least);
  // Where a notch lies at an end the tent has no height.
  return Number.isNaN(tent) ? plain : Math.min(plain, tent);
};
