/* The most and the least that a chain of sections lets through anywhere in a band: proved, not looked up at points. */
import { itemAt, numberAt } from '../units/at.js';
import { type Db, db } from '../units/quantity.js';
import { boundBetween, type Place, placeAt, type RatioChain, ratioChainOf, turnsOf } from './ratio-chain.js';
import { highestHz, magnitudeFloorDb } from './response.js';
import type { Section } from './section.js';

/** A stretch of the spectrum, in hertz, ends included. */
export interface Band {
  readonly fromHz: number;
  readonly toHz: number;
}

/**
 * How far a figure may lie from the true extreme, in dB: next to nothing; and less than anybody tells apart where so many
 * looks have not settled it, since filters undo each other over a wide stretch and the curve there is next to flat.
 */
const toleranceDb = 1e-9;
const flatToleranceDb = 1e-5;
const mostLooks = 500;

/** Nepers of power to dB. */
const dbPerNeper = 10 / Math.LN10;

/** Between two places an octave of frequency or more apart, halfway by ratio. */
const between = (y0: number, y1: number): number => (y1 > 4 * y0 ? Math.sqrt(y0 * y1) : (y0 + y1) / 2);

/** A piece of a band that may hold more than was found, with what its bounds rest on. */
interface Piece {
  readonly y0: number;
  readonly y1: number;
  readonly left: Place;
  readonly right: Place;
  readonly bound: number;
}

/**
 * The greatest ln|H|² over a band, branch and bound: the band in pieces at every turn of every section, which are their
 * centres and edges, and each piece halved until it is proved to hold nothing more than was found, but for the tolerance.
 * `from` where there is nothing above that; anything above `enough` as soon as it is found.
 */
const greatest = (chain: RatioChain, { fromHz, toHz }: Band, from: number, enough: number): number => {
  if (!(fromHz > 0 && toHz >= fromHz && toHz < Infinity)) {
    throw new RangeError(`no band from ${fromHz} to ${toHz} Hz`);
  }
  const { yAt } = chain;
  const [bottom, top] = [yAt(fromHz), yAt(toHz)];
  const turns = turnsOf(chain).filter((y) => y > bottom && y < top);
  const ys = Float64Array.from([bottom, ...turns, top]).sort();
  let best = from;
  let looks = 0;
  const look = (y: number): Place => {
    looks++;
    const place = placeAt(chain, y);
    const value = itemAt(place, 0);
    if (value > best) best = value;
    return place;
  };
  const places = Array.from(ys, look);
  const isSettled = (bound: number): boolean =>
    bound <= best + (looks < mostLooks ? toleranceDb : flatToleranceDb) / dbPerNeper;
  const open: Piece[] = [];
  const consider = (y0: number, y1: number, left: Place, right: Place): void => {
    const bound = boundBetween(left, right, y1 - y0);
    if (!isSettled(bound)) open.push({ y0, y1, left, right, bound });
  };
  for (let i = 1; i < ys.length; i++) {
    consider(numberAt(ys, i - 1), numberAt(ys, i), itemAt(places, i - 1), itemAt(places, i));
  }
  for (let next = open.pop(); next && !(best > enough); next = open.pop()) {
    const { y0, y1, left, right, bound } = next;
    const middle = between(y0, y1);
    // Nothing lies between two neighbouring numbers.
    if (isSettled(bound) || middle <= y0 || middle >= y1) continue;
    const place = look(middle);
    consider(y0, middle, left, place);
    consider(middle, y1, place, right);
  }
  return best;
};

const lowest = magnitudeFloorDb / dbPerNeper;

/** Above half the sample rate a digital chain has no response. */
const reachesAbove = (sections: readonly Section[], { toHz }: Band): boolean =>
  sections.some((section) => toHz > highestHz(section));

/**
 * The most that a chain lets through anywhere in a band, in dB: 20 log10 |H|, never below −200 dB. It is proved of every
 * frequency to 1e-9 dB; to 1e-5 dB where filters undo each other so nearly that the curve is next to flat.
 *
 * NaN where the band reaches above half the sample rate. Throws RangeError for a band that is none, and for sections of
 * more than one domain or sample rate.
 */
export const highestDb = (sections: readonly Section[], band: Band): Db =>
  reachesAbove(sections, band)
    ? db(Number.NaN)
    : db(
        Math.max(
          magnitudeFloorDb,
          dbPerNeper * greatest(ratioChainOf(sections, false), band, lowest, Infinity),
        ),
      );

/** The least that a chain lets through anywhere in a band; else as `highestDb`. */
export const lowestDb = (sections: readonly Section[], band: Band): Db =>
  reachesAbove(sections, band)
    ? db(Number.NaN)
    : db(
        Math.max(
          magnitudeFloorDb,
          -dbPerNeper * greatest(ratioChainOf(sections, true), band, -Infinity, -lowest),
        ),
      );

/** Whether a chain lets more than so much through anywhere in a band: sooner known than the most. */
export const exceedsDb = (sections: readonly Section[], band: Band, levelDb: number): boolean => {
  const level = levelDb / dbPerNeper;
  return greatest(ratioChainOf(sections, false), band, level, level) > level;
};

/** Whether it lets less than so much through anywhere. */
const fallsBelowDb = (sections: readonly Section[], band: Band, levelDb: number): boolean => {
  const level = -levelDb / dbPerNeper;
  return greatest(ratioChainOf(sections, true), band, level, level) > level;
};

/** A band, and on which side of a level a chain lies there. */
export interface LevelSide {
  readonly band: Band;
  readonly isAbove: boolean;
}

/** What lies so little below a level counts as above it, so that a curve that touches it is not halved for ever. */
const touchingDb = 1e-8;

/** A band in the stretches where a chain lets more through than a level, and those where it lets no more through. */
export const sidesOf = (sections: readonly Section[], band: Band, levelDb: number): readonly LevelSide[] => {
  if (!fallsBelowDb(sections, band, levelDb - touchingDb)) return [{ band, isAbove: true }];
  if (!exceedsDb(sections, band, levelDb)) return [{ band, isAbove: false }];
  const middleHz = (band.fromHz + band.toHz) / 2;
  // Two neighbouring numbers on either side of a cliff: what holds for the stricter side holds for both.
  if (middleHz <= band.fromHz || middleHz >= band.toHz) return [{ band, isAbove: false }];
  const lower = sidesOf(sections, { ...band, toHz: middleHz }, levelDb);
  const upper = sidesOf(sections, { ...band, fromHz: middleHz }, levelDb);
  const [last, first] = [itemAt(lower, lower.length - 1), itemAt(upper, 0)];
  if (last.isAbove !== first.isAbove) return [...lower, ...upper];
  const joined = { ...first, band: { fromHz: last.band.fromHz, toHz: first.band.toHz } };
  return [...lower.slice(0, -1), joined, ...upper.slice(1)];
};
