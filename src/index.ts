/**
 * The main door of the library: from text and figures to a recipe and whatever it is written as. All of it is pure and
 * at once: no disk, no network, no clock, and nothing that waits, so that it runs in a browser as well.
 */

export type { NearFrequency } from './analysis/reach/pilot-reach.js';
export { type PilotReach, pilotReach } from './analysis/reach/pilot-reach.js';
export type { PilotSetting } from './analysis/reach/pilot-setting.js';
export {
  type FrontierPoint,
  type Tradeoff,
  type TradeoffContext,
  type TradeoffPoint,
  tradeoff,
  usualLossLimitsDb,
} from './analysis/tradeoff.js';
export type { AnyDocument, DocumentName, Documents, InsteadOf } from './documents/documents.js';
export type { Syntax } from './documents/fault-words.js';
export {
  type ReadOptions,
  readDocument,
  readIntents,
  readJournal,
  readRecipe,
  readRig,
  readTarget,
} from './documents/read.js';
export { writeJson } from './documents/write-json.js';
export { writeXml } from './documents/write-xml.js';
export type { ExportContext, Exporter, SheetContext } from './exporters/exporter.js';
export { exporters } from './exporters/registry.js';
export { buildChain, buildSections } from './filters/build.js';
export { type CutFamily, cutFamilies, type Filter, type FilterType, filterTypes } from './filters/filter.js';
export {
  type BandwidthMeaning,
  bandwidthMeanings,
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
export type { Alternative, Fit, FitContext, FitOutcome, FittedDocument, Shortcoming } from './fitting/fit.js';
export type { LossLimits } from './fitting/guard-task.js';
export { type GuardTask, guardTask } from './fitting/guard-task.js';
export { fits } from './fitting/registry.js';
export { type GuardFigures, guardFigures } from './guard/guard-figures.js';
export { type GuardChoices, type GuardScope, guardScope } from './guard/guard-scope.js';
export { preEmphasisDb } from './guard/modulation.js';
export type { DbRange } from './guard/pilot-to-programme.js';
export type { Emphasise } from './layout/emphasis.js';
export { type LearnOptions, learnGrid } from './learning/learn-grid.js';
export type { Candidate, Learned, Neighbours, NextReading, Suspect } from './learning/learned.js';
export { parseReadings } from './learning/parse-readings.js';
export type { End, Interval, KnobReadings, LastDigit, Reading } from './learning/reading.js';
export type { KnownBeside } from './learning/shapes.js';
export type { Desk, DeskSlot, DeskSlotType } from './model/desk.js';
export { type Intent, type IntentsDocument, type ProtectiveRole, protectiveRoles } from './model/intent.js';
export type {
  FoundArgument,
  FoundValue,
  Journal,
  JournalMix,
  JournalOutcome,
  JournalSlot,
  MixState,
} from './model/journal.js';
export { type Knob, knobs } from './model/knob.js';
export { makeDesk } from './model/make-desk.js';
export type { Outcome, Problem } from './model/problem.js';
export { protectiveIntents } from './model/protection.js';
export type {
  FilterValues,
  Guard,
  KnobPosition,
  MissingFilter,
  PinkNoise,
  PlacedFilter,
  PlacementError,
  Recipe,
  RecipeAlternative,
  RecipeMix,
  Treatment,
} from './model/recipe.js';
export {
  type FmStereoSystem,
  type GuardWishes,
  type Link,
  links,
  type Mix,
  type PlainSystem,
  type Rig,
  type System,
} from './model/rig.js';
export {
  type AskByAddress,
  type AskByArgument,
  type Display,
  type Evidence,
  type EvidenceState,
  type GridReference,
  type NumberDisplay,
  type Osc,
  type OscAddressed,
  type OscAddresses,
  type OscEncoding,
  type OscParameter,
  type OscRead,
  type OscTransport,
  oscTransports,
  type Slot,
  type SlotType,
  type Target,
} from './model/target.js';
export { immediately, makeOscCodec, type OscBundle, type OscCodec, type OscPacket } from './osc/codec.js';
export type { OscArgument, OscMessage } from './osc/message.js';
export { type RecipeMessage, recipeMessages } from './osc/recipe-messages.js';
export type { Quantiser, QuantiserKind, QuantiserSpec } from './quantisers/quantiser.js';
export { makeQuantiser, quantiserKinds } from './quantisers/registry.js';
export {
  type Measure,
  nearestStep,
  type Snapping,
  type StepsAround,
  stepOf,
  stepsAround,
  type Tie,
} from './quantisers/snap.js';
export { makeIntentsRecipe } from './recipes/make-intents-recipe.js';
export { makeRecipe, type RecipeOptions } from './recipes/make-recipe.js';
export * from './units/format.js';
export * from './units/parse.js';
export * from './units/quantity.js';
export type { Result } from './units/result.js';
