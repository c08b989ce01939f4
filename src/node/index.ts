/**
 * The door of the library for Node.js: what takes a disk or a network. Everything pure is in the main door.
 *
 * What writes to a desk is here only as one whole sequence; the steps it is made of are exported nowhere.
 */

export type { InspectedRig, LeftAlone } from '../live/inspect/inspect-rig.js';
export type {
  ActingFilter,
  BesideRecipe,
  Finding,
  InspectedMix,
  InspectedOutput,
  MixRecipe,
  PilotState,
  WeighedFinding,
} from '../live/inspect/inspection.js';
export type { StandingFilter, Unclear } from '../live/inspect/standing-filter.js';
export type { Beyond } from '../live/learn/find-stops.js';
export type {
  Findings,
  GridCheck,
  GridLearned,
  LeftUnlearned,
  PartnerFound,
  SlotTypes,
} from '../live/learn/found.js';
export type { Recognise } from '../live/learn/grids-left.js';
export type { LearnDone, ProposedLearning } from '../live/learn/learn-output.js';
export type { Between } from '../live/learn/probing.js';
export type { SlotView } from '../live/plan/readback.js';
export type { RetryPolicy } from '../live/session/session.js';
export type { ValueChange } from '../live/watch/mix-standing.js';
export type { MixEvent, MixStood } from '../live/watch/mix-watch.js';
export type { StandingGuard } from '../live/watch/standing-guard.js';
export type { WatchEvent, WatchSummary } from '../live/watch/watch-state.js';
export type { OtherName } from '../live/write/names.js';
export type { MixReport, RecipeOutcome, ValueReport } from '../live/write/report.js';
export type { VerifiedMix } from '../live/write/verify.js';
export type { ProposedMix, WriteDone } from '../live/write/write-mixes.js';
export { type InspectOptions, type InspectReport, inspect } from './desk/inspect.js';
export {
  type LearnDeskOptions,
  type LearnProposal,
  type LearnReport,
  learn,
  learnedTarget,
} from './desk/learn.js';
export type { DeskOptions, DeskProgress } from './desk/open-desk.js';
export {
  type DryRun,
  type DryRunOptions,
  dryRun,
  type PushOptions,
  push,
  type RecipeChoice,
} from './desk/push.js';
export { type LastJournal, lastJournal, type RestoreOptions, restore } from './desk/restore.js';
export { type VerifyOptions, type VerifyReport, verify } from './desk/verify.js';
export { type ToldEvent, type WatchOptions, type WatchReport, type WatchStart, watch } from './desk/watch.js';
export type { Proposal, WriteOptions, WriteReport } from './desk/write-desk.js';
export { journalFolder } from './journals/journal-folder.js';
export {
  isReadJournal,
  type JournalSummary,
  type ListedJournal,
  listJournals,
  type UnreadJournal,
} from './journals/list-journals.js';
export { loadQuantiserKinds } from './load-quantiser.js';
export { type Input, readInput } from './read-input.js';
export { loadTarget, shippedTargets } from './targets.js';
