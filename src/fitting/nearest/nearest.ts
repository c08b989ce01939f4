import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { centsBetween } from '../../units/quantity.js';
import type { Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import { errorOf, hasOtherShape, type Placement, place, placementDistance } from '../placement.js';
import { leastShownDb } from '../response.js';
import { type Service, serviceOf } from '../substitutes.js';
import { type Cost, cheapestAssignment } from './assignment.js';

const ranksByRole: ReadonlyMap<string, number> = new Map([
  ['pilot-cut', 0],
  ['high-cut', 1],
  ['low-cut', 3],
]);

/**
 * Which part of a cost an intent left without a place falls into: the pilot cut must find one first, then
 * the high cut, then filters of the user's own, then the low cut, which guards no pilot.
 */
export const rankOf = (role: string): number => ranksByRole.get(role) ?? 2;

const unplacedCost = (intent: Intent): Cost => {
  const ranks = [0, 0, 0, 0];
  ranks[rankOf(intent.role)] = 1;
  return [0, ...ranks, 0, 0, 0, 0, 0];
};

const impossible: Cost = [1, 0, 0, 0, 0, 0, 0, 0, 0, 0];

/** An intent as one slot would serve it, every knob at its own nearest step. */
export interface Offer {
  readonly service: Service;
  readonly placement: Placement;
}

/** What an intent costs on a slot: substitutes, then errors, then slots that could do more, then order. */
const offerCost = (offer: Offer, slot: DeskSlot, slotIndex: number, order: number): Cost => [
  0,
  0,
  0,
  0,
  0,
  offer.service.isSubstitute ? 1 : 0,
  placementDistance(offer.placement),
  slot.types.size,
  slotIndex,
  // Of the same slots in another order, the one where higher frequencies sit on later slots.
  -order * slotIndex,
];

/** How far off a slot's nearest frequency may be, a third of an octave: farther off it is another filter. */
export const farthestCents = 400;

/** Whether a gain was asked for and the knob cannot but stand where it shows 0.0 dB: such a filter is better left out. */
const comesToNothing = ({ gainDb: askedDb }: Intent, { set: { gainDb } }: Placement): boolean =>
  askedDb !== undefined && askedDb !== 0 && gainDb !== undefined && Math.abs(gainDb) < leastShownDb;

/** An intent on a slot; null where the slot can make nothing of the kind, or nothing near that frequency. */
export const offerOf = (intent: Intent, slot: DeskSlot, { desk }: FitContext): Offer | null => {
  const service = serviceOf(intent, slot.types);
  if (!service) return null;
  const placement = place(service.intent, service.slotType, desk.target.display);
  const isNear = Math.abs(centsBetween(intent.frequencyHz, placement.set.frequencyHz)) <= farthestCents;
  return isNear && !comesToNothing(service.intent, placement) ? { service, placement } : null;
};

export const placedOf = (asked: Intent, { service, placement }: Offer, slot: DeskSlot): PlacedFilter => ({
  slot: slot.id,
  role: asked.role,
  type: service.slotType.type,
  asked,
  set: placement.set,
  steps: placement.steps,
  error: errorOf(service.slotType.type, asked, placement.set),
});

/** Knobs that end before what was asked; of a derived filter not its slope, whose shape is told where it does not serve. */
const beyondRange = (intent: Intent, { placement }: Offer, placed: PlacedFilter): readonly Shortcoming[] => {
  const knobs = placement.beyond.filter((knob) => !(intent.mayMove && knob === 'slope'));
  return knobs.length > 0 ? [{ kind: 'beyond-range', intent, placed, knobs }] : [];
};

export const offerShortcomings = (
  intent: Intent,
  offer: Offer,
  placed: PlacedFilter,
): readonly Shortcoming[] => [
  ...(offer.service.isSubstitute ? [{ kind: 'substitute', intent, placed } as const] : []),
  ...(hasOtherShape(intent, placed.set) ? [{ kind: 'other-shape', intent, placed } as const] : []),
  ...beyondRange(intent, offer, placed),
];

const fitNearest = (intents: readonly Intent[], context: FitContext): FitOutcome => {
  const { slots } = context;
  const byFrequency = [...intents].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const offers = byFrequency.map((intent) => slots.map((slot) => offerOf(intent, slot, context)));
  // A column for every slot, and for every intent one that stands for having no place.
  const costs = byFrequency.map((intent, order) => [
    ...slots.map((slot, index) => {
      const offer = offers[order]?.[index];
      return offer ? offerCost(offer, slot, index, order) : impossible;
    }),
    ...byFrequency.map(() => unplacedCost(intent)),
  ]);
  const columns = intents.length === 0 ? [] : cheapestAssignment(costs);

  const chosen: { readonly slotIndex: number; readonly placed: PlacedFilter }[] = [];
  const shortcomings: Shortcoming[] = [];
  byFrequency.forEach((intent, order) => {
    const slotIndex = columns[order] ?? slots.length;
    const slot = slots[slotIndex];
    const offer = offers[order]?.[slotIndex];
    if (!slot || !offer) {
      shortcomings.push({ kind: 'no-place', intent, slotsFree: slots.length });
      return;
    }
    const placed = placedOf(intent, offer, slot);
    chosen.push({ slotIndex, placed });
    shortcomings.push(...offerShortcomings(intent, offer, placed));
  });
  chosen.sort((a, b) => a.slotIndex - b.slotIndex);
  return { filters: chosen.map(({ placed }) => placed), shortcomings };
};

/**
 * Each knob at its nearest step, whatever the others do: frequency and Q by ratio, gain by difference. Slots
 * are given out by the cheapest assignment of all, not first come first served.
 */
export const nearest: Fit = {
  name: 'nearest',
  summary: 'every knob at its own nearest step',
  needsGuard: false,
  isDefaultFor: [],
  comparedWith: null,
  mayTakeLong: () => false,
  fit: fitNearest,
};
