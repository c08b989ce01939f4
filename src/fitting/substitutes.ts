import { buildSections } from '../filters/build.js';
import type { FilterType } from '../filters/filter.js';
import { attenuationDbAt } from '../filters/response.js';
import type { DeskSlotType } from '../model/desk.js';
import type { Intent } from '../model/intent.js';
import { db, hz, step } from '../units/quantity.js';
import { analoguePrototype } from './response.js';

/**
 * What may serve where a slot lacks the type asked for: the same intent told as another type. A rule gives
 * null where it does not apply.
 */
interface Substitute {
  readonly asked: FilterType;
  readonly instead: FilterType;
  readonly intent: (asked: Intent, slotType: DeskSlotType) => Intent | null;
}

/** The lowest gain a slot can be turned to; null where it cannot cut. */
const lowestGainDb = (slotType: DeskSlotType) => {
  const gainDb = slotType.grids.gain?.valueAt(step(0));
  return gainDb !== undefined && gainDb < 0 ? db(gainDb) : null;
};

/** What a Butterworth cut takes at its own frequency: half the power. */
const halfPowerDb = 10 * Math.log10(2);

/** As far from the cut asked for as a shelf is sent: so near that even a coarse grid has a step within a third of an octave. */
const farthestShelf = 2 ** (1 / 4);

/**
 * The frequency at which a shelf must sit to take 3 dB where the cut asked for would, found by bisection on
 * the analogue shelf, but no farther than a quarter of an octave from it. A shelf too shallow to take 3 dB anywhere
 * sits at the cut's own frequency.
 */
const shelfFrequencyHz = (asked: Intent, type: 'lowshelf' | 'highshelf', gainDb: number) => {
  if (gainDb >= -halfPowerDb) return asked.frequencyHz;
  let inner = asked.frequencyHz / farthestShelf;
  let outer = asked.frequencyHz * farthestShelf;
  for (let i = 0; i < 60; i++) {
    const middle = Math.sqrt(inner * outer);
    const shelf = { type, frequencyHz: hz(middle), gainDb: db(gainDb) };
    const takes = attenuationDbAt(buildSections(shelf, analoguePrototype), asked.frequencyHz);
    if (takes > halfPowerDb === (type === 'highshelf')) inner = middle;
    else outer = middle;
  }
  return hz(Math.sqrt(inner * outer));
};

const shelfForCut =
  (type: 'lowshelf' | 'highshelf') =>
  ({ role, ...asked }: Intent, slotType: DeskSlotType): Intent | null => {
    const gainDb = lowestGainDb(slotType);
    if (gainDb === null) return null;
    return { role, type, frequencyHz: shelfFrequencyHz({ role, ...asked }, type, gainDb), gainDb };
  };

const bellForNotch = (asked: Intent, slotType: DeskSlotType): Intent | null => {
  const gainDb = lowestGainDb(slotType);
  return gainDb === null ? null : { ...asked, type: 'peaking', gainDb };
};

/** A notch is deeper than any bell, so it serves for a bell only where the bell is there to shut something out. */
const notchForPilotCut = ({ gainDb, ...asked }: Intent): Intent | null =>
  asked.role === 'pilot-cut' && gainDb !== undefined && gainDb < 0 ? { ...asked, type: 'notch' } : null;

const substitutes: readonly Substitute[] = [
  { asked: 'lowpass', instead: 'highshelf', intent: shelfForCut('highshelf') },
  { asked: 'highpass', instead: 'lowshelf', intent: shelfForCut('lowshelf') },
  { asked: 'notch', instead: 'peaking', intent: bellForNotch },
  { asked: 'peaking', instead: 'notch', intent: notchForPilotCut },
];

/** An intent as one slot could serve it: as asked, or by a substitute. */
export interface Service {
  readonly intent: Intent;
  readonly slotType: DeskSlotType;
  readonly isSubstitute: boolean;
}

/** How a slot could serve an intent; null where it cannot. */
export const serviceOf = (asked: Intent, types: ReadonlyMap<FilterType, DeskSlotType>): Service | null => {
  const exact = types.get(asked.type);
  if (exact) return { intent: asked, slotType: exact, isSubstitute: false };
  for (const substitute of substitutes) {
    const slotType = types.get(substitute.instead);
    if (substitute.asked !== asked.type || !slotType) continue;
    const intent = substitute.intent(asked, slotType);
    if (intent) return { intent, slotType, isSubstitute: true };
  }
  return null;
};
