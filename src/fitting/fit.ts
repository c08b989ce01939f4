import type { Desk, DeskSlot } from '../model/desk.js';
import type { Intent } from '../model/intent.js';
import type { Knob } from '../model/knob.js';
import type { Band, Recipe } from '../model/recipe.js';

/** What went otherwise than asked for one intent, before it is put into words. */
export type Shortcoming =
  | { readonly kind: 'no-place'; readonly intent: Intent; readonly slotsFree: number }
  | { readonly kind: 'stand-in'; readonly intent: Intent; readonly band: Band }
  | {
      readonly kind: 'beyond-range';
      readonly intent: Intent;
      readonly band: Band;
      readonly knobs: readonly Knob[];
    };

/** The bands a fit chose, in the order of the desk's slots, and what it could not do as asked. */
export interface FitOutcome {
  readonly bands: readonly Band[];
  readonly shortcomings: readonly Shortcoming[];
}

/** One way of choosing slots and steps: the plug-in of this room. Pure. */
export interface Fit {
  readonly name: Recipe['fit'];
  readonly summary: string;
  fit(intents: readonly Intent[], slots: readonly DeskSlot[], desk: Desk): FitOutcome;
}
