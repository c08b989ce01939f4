import type { FoundValue, Journal, JournalMix, JournalSlot } from '../../../model/journal.js';
import type { Problem } from '../../../model/problem.js';
import type { Rule } from '../rule.js';

/** One slot of a journal, and the path to it. */
export interface PlacedSlot {
  readonly slot: JournalSlot;
  readonly mix: JournalMix;
  readonly path: string;
}

/** One found value of a journal, and the path to it. */
export interface PlacedValue {
  readonly value: FoundValue;
  readonly slot: JournalSlot;
  readonly path: string;
}

/** Every slot of every mix of a journal. */
export const placedSlots = ({ mixes }: Journal): readonly PlacedSlot[] =>
  mixes.flatMap((mix, at) =>
    mix.slots.map((slot, index) => ({ slot, mix, path: `mixes[${at}].slots[${index}]` })),
  );

/** Every value a journal holds. */
const placedValues = (journal: Journal): readonly PlacedValue[] =>
  placedSlots(journal).flatMap(({ slot, path }) =>
    slot.found.map((value, index) => ({ value, slot, path: `${path}.found[${index}]` })),
  );

/** A rule about each found value, on its own. */
export const foundValueRule = (
  name: string,
  check: (each: PlacedValue, journal: Journal) => readonly Problem[],
): Rule<Journal> => ({
  name,
  check: (journal) => placedValues(journal).flatMap((each) => check(each, journal)),
});

/** A rule that no two found values are alike in some way; `tell` says what the first of them has taken. */
export const foundOnceRule = (
  name: string,
  key: (each: PlacedValue) => string,
  tell: (each: PlacedValue, first: PlacedValue) => Problem,
): Rule<Journal> => ({
  name,
  check: (journal) => {
    const firsts = new Map<string, PlacedValue>();
    return placedValues(journal).flatMap((each) => {
      const first = firsts.get(key(each));
      if (first) return [tell(each, first)];
      firsts.set(key(each), each);
      return [];
    });
  },
});
