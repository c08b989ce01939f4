import type { PlacedFilter } from '../../model/recipe.js';
import type { SlotView } from '../plan/readback.js';
import type { InspectedMix, InspectedOutput, WeighedFinding } from './inspection.js';

/** How an inspection is told in words, for those who want them beside the figures. */
export interface InspectionWords {
  /** A slot as the desk shows it. */
  shown(view: SlotView | null): string;
  /** What was found, as sentences. */
  messages(mix: InspectedMix): readonly string[];
}

const filterData = ({ slot, role, type, set, steps }: PlacedFilter) => ({ slot, role, type, set, steps });

const findingData = (finding: WeighedFinding) => {
  if (finding.kind === 'recipe-sets') return { ...finding, filters: finding.filters.map(filterData) };
  if (finding.kind !== 'no-low-cut' && finding.kind !== 'no-high-cut') return finding;
  const { recipe, ...rest } = finding;
  if (recipe === undefined) return rest;
  return typeof recipe === 'string'
    ? { ...rest, missingInRecipe: recipe }
    : { ...rest, recipeSets: filterData(recipe) };
};

const outputData = (mix: InspectedMix, found: InspectedOutput, words: InspectionWords) => ({
  output: found.output,
  state: found.state,
  slots: found.slots.map(({ view, ...slot }) => ({ ...slot, shown: words.shown(view) })),
  byRealisation: found.byRealisation,
  worst: found.worst,
  verdict: found.verdict,
  recipe: found.recipe && { ...found.recipe, toSet: found.recipe.toSet.map(filterData) },
  findings: found.findings.map(findingData),
  messages: words.messages({ ...mix, read: [found], otherNames: [] }),
});

/** What a mix was judged over and by, in the words of a recipe's guard. */
const guardData = ({ scope, keepLossAsAskedDb }: InspectedMix) => ({
  pilotHz: scope.pilotHz,
  windowHz: scope.windowHz,
  keepLowHz: scope.keepLowHz,
  keepHighHz: scope.keepHighHz,
  preEmphasisMicroseconds: scope.preEmphasisMicroseconds,
  lineUpDbfs: scope.lineUpDbfs,
  limits: {
    pilotAttenuationAtLeastDb: scope.pilotAttenuationAtLeastDb,
    keepLossAtMostDb: scope.keepLossAtMostDb,
    keepLossAsAskedDb,
    riseAtMostDb: scope.riseAtMostDb,
  },
});

/**
 * An inspected mix as plain data, for programs: figures for every way of building, what stands in each slot, and why. Of
 * filters of a recipe only where they go and what they are is repeated.
 */
export const inspectionData = (mix: InspectedMix, words: InspectionWords) => ({
  name: mix.name,
  outputs: mix.outputs,
  state: mix.state,
  guard: guardData(mix),
  otherNames: mix.otherNames.map(({ output, name }) => ({ output, name })),
  read: mix.read.map((each) => outputData(mix, each, words)),
  problems: mix.problems.map(({ code, path }) => ({ code, path })),
});
