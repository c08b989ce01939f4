import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { itemAt } from '../../units/at.js';
import type { FitContext } from '../fit.js';
import { type Offer, offerOf, rankOf } from '../nearest/nearest.js';
import { type SlotClass, slotClasses } from '../slot-classes.js';

/** The class of slots each intent has one of, by its place among the classes; null for an intent without a slot. */
export type Seating = readonly (number | null)[];

/** Which intents may be given which slots. */
export interface Seats {
  /** All that no substitute serves, in rising frequency; those that no slot can serve among them. */
  readonly intents: readonly Intent[];
  /** The slots that no substitute holds. */
  readonly classes: readonly SlotClass[];
  /** How a class serves an intent, by intent and class; null where it cannot, or by another type only. */
  readonly offers: readonly (readonly (Offer | null)[])[];
  /** As nearest gives them out. */
  readonly nearest: Seating;
}

export const seatsOf = (
  intents: readonly Intent[],
  followers: readonly PlacedFilter[],
  slots: readonly DeskSlot[],
  context: FitContext,
): Seats => {
  const classes = slotClasses(slots);
  return {
    intents,
    classes,
    offers: intents.map((intent) =>
      classes.map(({ slots: [slot] }) => {
        const offer = slot ? offerOf(intent, slot, context) : null;
        return offer?.service.isSubstitute === false ? offer : null;
      }),
    ),
    nearest: intents.map((intent) => {
      const slot = followers.find(({ asked }) => asked === intent)?.slot;
      const index = classes.findIndex((each) => each.slots.some(({ id }) => id === slot));
      return index < 0 ? null : index;
    }),
  };
};

/** How many slots of each class are left over. */
const roomIn = ({ classes }: Seats, seating: Seating): number[] =>
  classes.map(({ slots }, index) => slots.length - seating.filter((each) => each === index).length);

/** How many intents of each rank `nearest` finds a slot for: never fewer are served, and none before a higher rank. */
const servedByRank = ({ intents, nearest }: Seats): number[] => {
  const served = [0, 0, 0, 0];
  intents.forEach(({ role }, index) => {
    if (nearest[index] !== null) served[rankOf(role)] = (served[rankOf(role)] ?? 0) + 1;
  });
  return served;
};

/** Every way to give the slots out that serves as many intents of each rank as nearest does. */
export function* allSeatings(seats: Seats): Generator<Seating> {
  const { intents, offers } = seats;
  const room = roomIn(seats, []);
  const due = servedByRank(seats);
  const ranks = intents.map(({ role }) => rankOf(role));
  const seating: (number | null)[] = [];
  function* seatFrom(index: number): Generator<Seating> {
    const rank = ranks[index];
    if (rank === undefined) {
      yield [...seating];
      return;
    }
    const dueOfRank = itemAt(due, rank);
    for (const [seat, offer] of (offers[index] ?? []).entries()) {
      const left = itemAt(room, seat);
      if (!offer || left === 0 || dueOfRank === 0) continue;
      [seating[index], room[seat], due[rank]] = [seat, left - 1, dueOfRank - 1];
      yield* seatFrom(index + 1);
      [room[seat], due[rank]] = [left, dueOfRank];
    }
    if (ranks.slice(index + 1).filter((each) => each === rank).length < dueOfRank) return;
    seating[index] = null;
    yield* seatFrom(index + 1);
  }
  yield* seatFrom(0);
}

/**
 * Seatings one move away that concern an intent: it moves to another class with a slot to spare, or changes places with
 * another; or, where it has no slot, it gets one for another of its rank, whose slot it takes, or that of a third that
 * moves on.
 */
export const seatingsNear = (seats: Seats, seating: Seating, index: number): readonly Seating[] => {
  const { intents, classes, offers } = seats;
  const near = new Map<string, Seating>();
  /** Notes a seating with these intents elsewhere, where all of them can be served there and there is room. */
  const note = (...moves: readonly (readonly [index: number, seat: number | null])[]): void => {
    const moved = [...seating];
    for (const [each, seat] of moves) moved[each] = seat;
    const areServed = moves.every(([each, seat]) => seat === null || offers[each]?.[seat]);
    const isNew = moved.some((seat, each) => seat !== seating[each]);
    if (areServed && isNew && roomIn(seats, moved).every((left) => left >= 0)) near.set(moved.join(), moved);
  };
  const rank = rankOf(intents[index]?.role ?? '');
  const seat = seating[index] ?? null;
  classes.forEach((_, newSeat) => {
    if (seat !== null) note([index, newSeat]);
    seating.forEach((otherSeat, other) => {
      if (otherSeat === null) return;
      if (seat !== null) note([index, otherSeat], [other, seat]);
      else if (rankOf(intents[other]?.role ?? '') === rank) {
        note([index, newSeat], [other, null]);
        seating.forEach((thirdSeat, third) => {
          if (thirdSeat === newSeat && third !== other) {
            note([index, newSeat], [other, null], [third, otherSeat]);
          }
        });
      }
    });
  });
  return [...near.values()];
};

/**
 * The slot of every intent that has one. In each class those that nearest uses come first, and higher frequencies sit
 * on later slots, as nearest has it.
 */
export const slotsOfSeating = (
  { classes }: Seats,
  seating: Seating,
  followers: readonly PlacedFilter[],
): ReadonlyMap<number, DeskSlot> => {
  const slotOf = new Map<number, DeskSlot>();
  classes.forEach(({ slots }, seat) => {
    const sitting = seating.flatMap((each, index) => (each === seat ? [index] : []));
    const isUsed = ({ id }: DeskSlot): boolean => followers.some(({ slot }) => slot === id);
    const used = [...slots.filter(isUsed), ...slots.filter((slot) => !isUsed(slot))].slice(0, sitting.length);
    slots
      .filter((slot) => used.includes(slot))
      .forEach((slot, position) => {
        slotOf.set(itemAt(sitting, position), slot);
      });
  });
  return slotOf;
};
