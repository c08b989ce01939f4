import { type Box, singleFilter } from './box.js';
import { evaluate, type Found } from './evaluate.js';
import { type Searched, search } from './search.js';
import { slotsSuffice } from './slots.js';
import { isBetter } from './solution.js';
import { makeSearchSpace, type SearchProblem, type SearchSpace, withCuts } from './space.js';

const byStep = (a: Box, b: Box): number => a.f[0] - b.f[0] || a.w[0] - b.w[0] || a.g[0] - b.g[0];

/** Cuts in the one order a search knows them in: by lattice, then by step. */
const ordered = (cuts: readonly Box[], { pilotCuts }: SearchSpace): readonly Box[] =>
  [...cuts].sort((a, b) => pilotCuts.indexOf(a.lattice) - pilotCuts.indexOf(b.lattice) || byStep(a, b));

const mostRounds = 8;

/**
 * A good setting with one cut more than `from` has, to begin a search with: the best cut to add to those there
 * are, then each cut in turn made the best beside the others, until nothing improves.
 */
const climb = (from: Found, space: SearchSpace): Found | null => {
  const bestBeside = (others: readonly Box[]): Found | null => {
    const { found } = search(withCuts(space, others.map(singleFilter)), 1);
    if (!found) return null;
    const cuts = [...others, ...found.cuts];
    const lattices = [
      ...(found.highCut.lattice ? [found.highCut.lattice] : []),
      ...cuts.map(({ lattice }) => lattice),
    ];
    return slotsSuffice(lattices)
      ? evaluate(found.highCut, ordered(cuts, space), space, Number.NEGATIVE_INFINITY)
      : null;
  };
  let best = bestBeside(from.cuts);
  for (let round = 0; best && round < mostRounds; round++) {
    const before: Found = best;
    for (let index = 0; index < before.cuts.length; index++) {
      const tried = bestBeside(best.cuts.filter((_, other) => other !== index));
      if (tried && tried.pilotAttenuationDb > best.pilotAttenuationDb) best = tried;
    }
    if (best.pilotAttenuationDb <= before.pilotAttenuationDb) return best;
  }
  return best;
};

/** Numbers of cuts there are slots for; none where there is nothing to cut with. */
const countsUpTo = (mostCuts: number, { pilotCuts }: SearchProblem): readonly number[] => {
  const slots = new Set(pilotCuts.flatMap(({ slotClass }) => slotClass.slots));
  return slots.size === 0
    ? [0]
    : Array.from({ length: Math.min(mostCuts, slots.size) }, (_, index) => index + 1);
};

/**
 * The best setting of at least one and at most `mostCuts` cuts; of equals the one with fewer. Every number of cuts is
 * tried: where two are no better than one, three may be.
 */
export const searchCuts = (problem: SearchProblem, mostCuts: number): Searched => {
  const space = makeSearchSpace(problem);
  let best: Found | null = null;
  let openDb = Number.NEGATIVE_INFINITY;
  for (const count of countsUpTo(mostCuts, problem)) {
    const climbed: Found | null = best && climb(best, space);
    const known: Found | null = climbed && best && isBetter(climbed, best) ? climbed : best;
    const searched = search(space, count, { known });
    best = searched.found;
    openDb = Math.max(openDb, searched.openDb);
  }
  return { found: best, openDb };
};

/** Whether any setting keeps within the limits, so far as patience lasts. */
export const canBeKept = (problem: SearchProblem, mostCuts: number): boolean => {
  const space = makeSearchSpace(problem);
  return countsUpTo(mostCuts, problem).some(
    (count) => search(space, count, { anyWillDo: true }).found !== null,
  );
};
