import type { BandSpace, Setting } from './band-space.js';
import { type MatchSpace, sumOf } from './match-space.js';
import type { Response, Responses } from './responses.js';
import { compareSquares, equalDb, type Found, type Score } from './score.js';

/** Knobs finer than this are turned in strides of the same number of strides to a knob. */
const mostLevels = 20;
const mostSweeps = 8;

const levelsOf = (bands: readonly BandSpace[]): number =>
  Math.min(
    mostLevels,
    Math.max(0, ...bands.flatMap(({ ranges }) => ranges.map(({ from, to }) => Math.ceil(Math.log2(to - from + 1))))),
  );

/** A setting and those round it: each knob where it is, a stride down and a stride up. */
const roundOf = ({ ranges }: BandSpace, centre: Setting, level: number): readonly Setting[] =>
  ranges.reduce<readonly Setting[]>(
    (settings, { from, to }, knob) => {
      const at = centre[knob] as number;
      const stride = Math.max(1, Math.floor((to - from) / 2 ** level));
      const steps = [...new Set([at, Math.max(from, at - stride), Math.min(to, at + stride)])];
      return settings.flatMap((setting) => steps.map((index) => [...setting, index]));
    },
    [[]],
  );

export const stats = { looks: 0 };
interface Goal { limits: (best: Found) => Score; better: (found: Found, best: Found) => boolean }
const climb = (space: MatchSpace, start: Found, goal: Goal, pairs = true): Found => {
  let best = start;
  const responseAt = (band: number, setting: Setting): Response => (space.responses[band] as Responses)(setting);
  const others = (...left: readonly number[]): Response =>
    sumOf(
      best.settings.flatMap((setting, band) => (left.includes(band) ? [] : [responseAt(band, setting)])),
      space,
    );
  const consider = (changes: readonly (readonly [band: number, setting: Setting])[], base: Response): void => {
    const [first, second] = changes;
    stats.looks++;
    const score = space.score(
      base,
      first ? responseAt(...first) : space.wire,
      second ? responseAt(...second) : space.wire,
      goal.limits(best),
    );
    if (!score) return;
    const settings = [...best.settings];
    for (const [band, setting] of changes) settings[band] = setting;
    const found = { ...score, settings };
    if (goal.better(found, best)) best = found;
  };
  const round = (band: number, level: number) =>
    roundOf(space.bands[band] as BandSpace, best.settings[band] as Setting, level);

  const improveSingles = (level: number): boolean => {
    const before = best;
    for (let again = true; again; ) {
      again = false;
      for (let band = 0; band < space.bands.length; band++) {
        for (let moved = true; moved; ) {
          const was = best;
          const base = others(band);
          for (const setting of round(band, level)) consider([[band, setting]], base);
          moved = best !== was;
          again ||= moved;
        }
      }
    }
    return best !== before;
  };
  const improvePairs = (level: number): boolean => {
    for (let a = 0; a < space.bands.length; a++) {
      for (let b = a + 1; b < space.bands.length; b++) {
        const was = best;
        const base = others(a, b);
        const [roundA, roundB] = [round(a, level), round(b, level)];
        for (const inA of roundA) for (const inB of roundB) consider([[a, inA], [b, inB]], base);
        if (best !== was) return true;
      }
    }
    return false;
  };

  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    const before = best;
    for (let level = 1; level <= levelsOf(space.bands); level++) {
      do improveSingles(level);
      while (pairs && improvePairs(level));
    }
    if (best === before) break;
  }
  return best;
};


export const searchNear = (space: MatchSpace, start: Found, mode = 'both'): Found => {
  const squares = start.squares * (1 + equalDb);
  const worst: Goal = {
    limits: (best) => ({ worstDb: best.worstDb + (mode.includes('P') ? 1e-4 : 0), squares }),
    better: (f, b) => f.worstDb < b.worstDb - 1e-4 || (mode.includes('P') && f.squares < b.squares * (1 - 1e-4)),
  };
  const rms: Goal = {
    limits: (best) => ({ worstDb: Infinity, squares: best.squares }),
    better: (f, b) => f.squares < b.squares * (1 - 1e-4),
  };
  const starts = [...(mode.includes('R') ? [] : [start]), ...(mode.includes('D') ? [] : [climb(space, start, rms, false)])];
  const ends = [start, ...starts.map((s) => climb(space, s, worst, !mode.includes('N')))];
  const least = Math.min(...ends.map((e) => e.worstDb));
  const worstDb = Math.min(least + 0.1, start.worstDb) + equalDb;
  const tidy: Goal = {
    limits: (best) => ({ worstDb, squares: best.squares * (1 + 1e-4) }),
    better: (f, b) => compareSquares(f, b, space.start, 1e-4) < 0,
  };
  return [...ends, ...starts].filter((e) => e.worstDb <= worstDb).map((e) => climb(space, e, tidy, !mode.includes('N'))).reduce((a, b) => compareSquares(a, b, space.start) <= 0 ? a : b);
};
