import { type FilterType, gainTypes } from '../../../filters/filter.js';
import type { Knob } from '../../../model/knob.js';
import type { GridReference, Slot, SlotType } from '../../../model/target.js';
import type { QuantiserSpec } from '../../../quantisers/quantiser.js';
import { groupWords, type SlotGroup } from './typed-slots.js';

/** What a grid is of: the width of bells and their like, of shelves, and of cuts are told apart. */
export type GridRole = 'frequency' | 'width' | 'shelf' | 'steepness' | 'gain';

/** A grid that has to be known of slots that are alike. */
export interface Need {
  readonly role: GridRole;
  /** The group, by its words. */
  readonly of: string;
}

/** A grid as it was told. */
export interface ToldGrid extends Need {
  readonly knob: Knob;
  /** The name of a quantiser, a number where nothing can be turned, null where shelves have no such knob. */
  readonly reference: GridReference | null;
  /** The grid itself, where it is told here for the first time. */
  readonly spec?: QuantiserSpec;
  /** Values as the screen shows them, where it was read off one. */
  readonly shown: readonly string[];
  /** What to know of it; empty where it was read off and is settled, or not read off at all. */
  readonly open: string | null;
  readonly isFromReadings: boolean;
}

const widthTypes: readonly FilterType[] = ['peaking', 'notch', 'bandpass', 'allpass'];
const shelfTypes: readonly FilterType[] = ['lowshelf', 'highshelf'];
const cutTypes: readonly FilterType[] = ['highpass', 'lowpass'];

const rolesOf = ({ types }: SlotGroup): readonly GridRole[] => {
  const some = (among: readonly FilterType[]): boolean => types.some((type) => among.includes(type));
  return [
    'frequency',
    ...(some(widthTypes) ? (['width'] as const) : []),
    ...(some(shelfTypes) ? (['shelf'] as const) : []),
    ...(some(cutTypes) ? (['steepness'] as const) : []),
    ...(some(gainTypes) ? (['gain'] as const) : []),
  ];
};

/** Every grid there is to tell, in the order it is asked for. */
export const needsOf = (groups: readonly SlotGroup[]): readonly Need[] => {
  const distinct = new Map(groups.map((group) => [groupWords(group), group]));
  return [...distinct].flatMap(([of, group]) => rolesOf(group).map((role) => ({ role, of })));
};

/** What stands for a grid that is not told yet. */
const standIns = {
  frequency: { frequency: 1000 },
  width: { q: 1 },
  shelf: {},
  steepness: { slope: 12 },
  gain: { gain: 0 },
} as const;

const typeOf = (type: FilterType, group: SlotGroup, told: readonly ToldGrid[]): SlotType => {
  const knobOf = (role: GridRole): Partial<SlotType> => {
    const grid = told.find((each) => each.role === role && each.of === groupWords(group));
    if (!grid) return standIns[role];
    return grid.reference === null ? {} : { [grid.knob]: grid.reference };
  };
  return {
    ...standIns.frequency,
    ...knobOf('frequency'),
    ...(widthTypes.includes(type) ? knobOf('width') : {}),
    ...(shelfTypes.includes(type) ? knobOf('shelf') : {}),
    ...(cutTypes.includes(type) ? knobOf('steepness') : {}),
    ...(gainTypes.includes(type) ? knobOf('gain') : {}),
  };
};

/** The slots of an output, with the grids as they were told so far. */
export const slotsOf = (
  groups: readonly SlotGroup[],
  names: readonly string[],
  told: readonly ToldGrid[],
): readonly Slot[] => {
  const all = groups.flatMap((group) => Array.from({ length: group.count }, () => group));
  return all.map((group, at) => ({
    id: names[at] ?? String(at + 1),
    types: Object.fromEntries(group.types.map((type) => [type, typeOf(type, group, told)])),
  }));
};

/** A name for a grid, as no other has it: `gain`, then `low-cut-frequency`. */
export const gridName = (knob: Knob, { of }: Need, taken: readonly string[]): string => {
  const longer = `${of.replace(/[^a-z]+/g, '-').slice(0, 40)}-${knob}`;
  const free = [knob, longer, ...taken.map((_, at) => `${longer}-${at + 2}`)];
  return free.find((name) => !taken.includes(name)) ?? longer;
};
