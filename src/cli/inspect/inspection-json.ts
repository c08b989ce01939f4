import type { InspectedMix, InspectedOutput, WeighedFinding } from '../../live/inspect/inspection.js';
import type { SurveyedMix } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import type { PlacedFilter } from '../../model/recipe.js';
import type { DeskPlace } from '../live/open-desk.js';
import { findingTexts, type Inspected } from './inspection-lines.js';

const filterJson = ({ slot, role, type, set, steps }: PlacedFilter) => ({ slot, role, type, set, steps });

const findingJson = (finding: WeighedFinding) => {
  if (finding.kind === 'recipe-sets') return { ...finding, filters: finding.filters.map(filterJson) };
  if (finding.kind !== 'no-low-cut' && finding.kind !== 'no-high-cut') return finding;
  const { recipe, ...rest } = finding;
  if (recipe === undefined) return rest;
  return typeof recipe === 'string'
    ? { ...rest, missingInRecipe: recipe }
    : { ...rest, recipeSets: filterJson(recipe) };
};

const outputJson = (mix: InspectedMix, found: InspectedOutput, phrases: Inspected) => ({
  output: found.output,
  state: found.state,
  slots: found.slots.map((slot) => ({ ...slot, shown: phrases.shown(mix, found.output, slot.slot) })),
  byRealisation: found.byRealisation,
  worst: found.worst,
  verdict: found.verdict,
  recipe: found.recipe && { ...found.recipe, toSet: found.recipe.toSet.map(filterJson) },
  findings: found.findings.map(findingJson),
  messages: findingTexts({ ...mix, read: [found], otherNames: [] }, phrases),
});

/** What a mix was judged over and by, in the words of a recipe's guard. */
const guardJson = ({ scope, keepLossAsAskedDb }: InspectedMix) => ({
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

const mixJson = (mix: InspectedMix, surveyed: SurveyedMix | undefined, phrases: Inspected) => {
  const { name, outputs, state, read, otherNames } = mix;
  return {
    name,
    outputs,
    state,
    guard: guardJson(mix),
    otherNames,
    read: read.map((each) => outputJson(mix, each, phrases)),
    problems: surveyed?.problems.map(({ code, path }) => ({ code, path })) ?? [],
  };
};

/** A rig as it stands, for programs: figures for every way of building, what stands in each slot, and why. */
export const inspectionJson = (
  inspected: Inspected,
  surveyed: readonly SurveyedMix[],
  place: Pick<DeskPlace, 'kind' | 'host' | 'port'> | null,
  { target }: Desk,
): string => {
  const { title, mixes, leftAlone, assumptions } = inspected;
  const report = {
    purpose: 'check',
    result: mixes.every(({ state }) => state === 'safe') ? 'done' : 'falls-short',
    rig: { title },
    target: target.id,
    desk: place && { transport: place.kind, host: place.host, port: place.port },
    mixes: mixes.map((mix, index) => mixJson(mix, surveyed[index], inspected)),
    leftAlone,
    assumptions,
    problems: [],
  };
  return `${JSON.stringify(report, null, 2)}\n`;
};
