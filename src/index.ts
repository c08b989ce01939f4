/**
 * The public library: from files and figures to a recipe, without the command line. Importing it has no side
 * effects; everything but the functions that load files is pure.
 */

export type { ExportContext, Exporter } from './exporters/exporter.js';
export { exporters } from './exporters/registry.js';
export { buildChain, buildSections } from './filters/build.js';
export { type CutFamily, cutFamilies, type Filter, type FilterType, filterTypes } from './filters/filter.js';
export {
  type DesignName,
  designNames,
  type QMeaning,
  qMeanings,
  type Realisation,
} from './filters/realisation.js';
export {
  attenuationDbAt,
  groupDelaySeconds,
  logFrequencies,
  magnitudeDb,
  magnitudeSquared,
  phaseRadians,
} from './filters/response.js';
export type { Section } from './filters/section.js';
export type { Fit, FitContext, FitOutcome } from './fitting/fit.js';
export { makeIntentsRecipe } from './fitting/make-intents-recipe.js';
export { makeRecipe, type RecipeOptions } from './fitting/make-recipe.js';
export { type PilotReach, pilotReach } from './fitting/reach/pilot-reach.js';
export { fits } from './fitting/registry.js';
export type { Desk, DeskSlot, DeskSlotType } from './model/desk.js';
export type { Intent, IntentsDocument } from './model/intent.js';
export type { Knob } from './model/knob.js';
export { makeDesk } from './model/make-desk.js';
export type { Outcome, Problem } from './model/problem.js';
export { protectiveIntents } from './model/protection.js';
export type { Band, Guard, Recipe, RecipeMix } from './model/recipe.js';
export type { Mix, Rig, System } from './model/rig.js';
export type { Target } from './model/target.js';
export { type GuardFigures, guardFigures } from './multiplex/guard-figures.js';
export { type GuardScope, guardScope } from './multiplex/guard-scope.js';
export { preEmphasisDb } from './multiplex/pre-emphasis.js';
export { loadTarget, shippedTargets } from './node/targets.js';
export type { Quantiser, QuantiserKind, QuantiserSpec } from './quantisers/quantiser.js';
export { makeQuantiser, quantiserKinds } from './quantisers/registry.js';
export { nearestStep, stepOf, stepsAround } from './quantisers/snap.js';
export { readDocument, readIntents, readRecipe, readRig, readTarget } from './reading/read.js';
export { writeJson } from './reading/write-json.js';
export { writeXml } from './reading/write-xml.js';
export * from './units/format.js';
export * from './units/parse.js';
export * from './units/quantity.js';
export type { Result } from './units/result.js';
