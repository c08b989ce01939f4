/**
 * The public library: from files and figures to a recipe, without the command line. Importing it has no side
 * effects; everything but the functions that load files is pure.
 */

export { type PilotReach, pilotReach } from './analysis/reach/pilot-reach.js';
export {
  readDocument,
  readIntents,
  readJournal,
  readRecipe,
  readRig,
  readTarget,
} from './documents/read.js';
export { writeJson } from './documents/write-json.js';
export { writeXml } from './documents/write-xml.js';
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
export { type GuardTask, guardTask } from './fitting/guard-task.js';
export { fits } from './fitting/registry.js';
export { type GuardFigures, guardFigures } from './guard/guard-figures.js';
export { type GuardScope, guardScope } from './guard/guard-scope.js';
export { preEmphasisDb } from './guard/pre-emphasis.js';
export type { MixPlan, SlotPlan } from './live/plan/plan.js';
export { planPush } from './live/plan/plan-push.js';
export { planRestore } from './live/plan/plan-restore.js';
export { rises } from './live/plan/rise.js';
export type { Clock } from './live/session/clock.js';
export { openLine } from './live/session/open-session.js';
export { type Line, type Patience, usualPatience, usualRatePerSecond } from './live/session/session.js';
export type { Transport } from './live/session/transport.js';
export { carryOut, type MixDone, type SlotDone } from './live/write/execute-plan.js';
export type { JournalKeeper } from './live/write/journal-keeper.js';
export { journalOutcome, writeJournal } from './live/write/make-journal.js';
export { type MixReport, reportMix, type ValueReport } from './live/write/report.js';
export { type SurveyedMix, survey } from './live/write/survey.js';
export { type VerifiedMix, verifyMix } from './live/write/verify.js';
export type { Desk, DeskSlot, DeskSlotType } from './model/desk.js';
export type { Intent, IntentsDocument } from './model/intent.js';
export type { Journal } from './model/journal.js';
export type { Knob } from './model/knob.js';
export { makeDesk } from './model/make-desk.js';
export type { Outcome, Problem } from './model/problem.js';
export { protectiveIntents } from './model/protection.js';
export type { Guard, PlacedFilter, Recipe, RecipeMix } from './model/recipe.js';
export type { Mix, Rig, System } from './model/rig.js';
export type { Target } from './model/target.js';
export { openJournalFile } from './node/journals/journal-file.js';
export { systemClock } from './node/network/clock.js';
export { connect } from './node/network/connect.js';
export { startStandin } from './node/standin/start-standin.js';
export { loadTarget, shippedTargets } from './node/targets.js';
export { makeOscCodec, type OscCodec } from './osc/codec.js';
export type { OscArgument, OscMessage } from './osc/message.js';
export type { Quantiser, QuantiserKind, QuantiserSpec } from './quantisers/quantiser.js';
export { makeQuantiser, quantiserKinds } from './quantisers/registry.js';
export { nearestStep, stepOf, stepsAround } from './quantisers/snap.js';
export { makeIntentsRecipe } from './recipes/make-intents-recipe.js';
export { makeRecipe, type RecipeOptions } from './recipes/make-recipe.js';
export * from './units/format.js';
export * from './units/parse.js';
export * from './units/quantity.js';
export type { Result } from './units/result.js';
