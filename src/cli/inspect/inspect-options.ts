import type { DeskOptions } from '../live/desk-options.js';
import type { RigGuardOptions } from '../words/guard-options.js';

/** Options of a report on a rig as it stands on a desk. */
export interface InspectOptions extends DeskOptions, RigGuardOptions {
  readonly target: string;
  readonly to: string;
  readonly spareSlots?: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}
