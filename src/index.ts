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
export { type GuardTask, guardTask } from './fitting/guard-task.js';
export { makeIntentsRecipe } from './fitting/make-intents-recipe.js';
export { makeRecipe, type RecipeOptions } from './fitting/make-recipe.js';
export { type PilotReach, pilotReach } from './fitting/reach/pilot-reach.js';
export { fits } from './fitting/registry.js';
export { carryOut, type MixDone, type SlotDone } from './live/carry-out.js';
export type { Clock } from './live/clock.js';
export type { JournalKeeper } from './live/journal-keeper.js';
export { type Line, type Patience, usualPatience, usualRatePerSecond } from './live/line.js';
export { openLine } from './live/open-line.js';
export type { MixPlan, SlotPlan } from './live/plan.js';
export { planPush } from './live/plan-push.js';
export { planRestore } from './live/plan-restore.js';
export { type MixReport, reportMix, type ValueReport } from './live/report.js';
export { rises } from './live/rise.js';
export { type SurveyedMix, survey } from './live/survey.js';
export type { Transport } from './live/transport.js';
export { type VerifiedMix, verifyMix } from './live/verify.js';
export { journalOutcome, writeJournal } from './live/write-journal.js';
export type { Desk, DeskSlot, DeskSlotType } from './model/desk.js';
export type { Intent, IntentsDocument } from './model/intent.js';
export type { Journal } from './model/journal.js';
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
export { openJournalFile } from './node/journals/journal-file.js';
export { systemClock } from './node/network/clock.js';
export { connect } from './node/network/connect.js';
export { startStandin } from './node/standin/start-standin.js';
export { loadTarget, shippedTargets } from './node/targets.js';
export { loadOscCodec, type OscCodec } from './osc/codec.js';
export type { OscArgument, OscMessage } from './osc/message.js';
export type { Quantiser, QuantiserKind, QuantiserSpec } from './quantisers/quantiser.js';
export { makeQuantiser, quantiserKinds } from './quantisers/registry.js';
export { nearestStep, stepOf, stepsAround } from './quantisers/snap.js';
export {
  readDocument,
  readIntents,
  readJournal,
  readRecipe,
  readRig,
  readTarget,
} from './reading/read.js';
export { writeJson } from './reading/write-json.js';
export { writeXml } from './reading/write-xml.js';
export * from './units/format.js';
export * from './units/parse.js';
export * from './units/quantity.js';
export type { Result } from './units/result.js';
