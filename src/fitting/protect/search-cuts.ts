import type { Box } from './box.js';
import { type Found, makeEvaluator } from './evaluate.js';
import { filterAt } from './lattice.js';
import { type Searched, search } from './search.js';
import { makeSearchSpace, type SearchProblem, type SearchSpace, slotsSuffice } from './space.js';

const single = ({ lattice, f, w, g }: Box) => filterAt(lattice, f[0], w[0], g[0]);

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
  const evaluator = makeEvaluator(space);
  const bestBeside = (others: readonly Box[]): Found | null => {
    const beside = makeSearchSpace({ ...space, fixed: [...space.fixed, ...others.map(single)] });
    const { found } = search(beside, 1);
    const cut = found?.cuts[0];
    if (
      !found ||
      !cut ||
      !slotsSuffice(found.highCut.lattice, [...others.map(({ lattice }) => lattice), cut.lattice])
    ) {
      return null;
    }
    const highCut = space.allHighCuts.find(
      ({ lattice, at }) => lattice === found.highCut.lattice && at.join() === found.highCut.at.join(),
    );
    return highCut
      ? evaluator.evaluate(highCut, ordered([...others, cut], space), Number.NEGATIVE_INFINITY)
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

/**
 * The best setting of at least one and at most `mostCuts` cuts (none where there is nothing to cut with); of
 * equals the one with fewer.
 */
export const searchCuts = (problem: SearchProblem, mostCuts: number): Searched => {
  const space = makeSearchSpace(problem);
  let best = search(space, problem.pilotCuts.length === 0 ? 0 : 1);
  for (let count = 2; best.found && count <= mostCuts; count++) {
    const more = search(space, count, climb(best.found, space));
    if (!more.found || more.found.pilotAttenuationDb <= best.found.pilotAttenuationDb) return best;
    best = more;
  }
  return best;
};
