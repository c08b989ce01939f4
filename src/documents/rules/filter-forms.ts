import { type FilterType, filterTypes, gainTypes, widthFormsByType } from '../../filters/filter.js';
import { type Knob, knobNames, knobs } from '../../model/knob.js';

/** The knobs that tell a filter type's width, and whether it has a gain: what its filters tell, as knobs. */
export interface FilterForm {
  readonly widths: readonly Knob[];
  /** A shelf has a usual width; every other type must tell one. */
  readonly widthMayBeLeftOut: boolean;
  readonly gain: boolean;
}

const formOf = (type: FilterType): FilterForm => ({
  // A shelf slope is no knob of any desk.
  widths: widthFormsByType[type].flatMap((form) => knobNames.filter((knob) => knobs[knob].value === form)),
  widthMayBeLeftOut: widthFormsByType[type].includes('shelfSlope'),
  gain: gainTypes.includes(type),
});

export const filterForms = Object.fromEntries(
  filterTypes.map((type) => [type, formOf(type)] as const),
) as Readonly<Record<FilterType, FilterForm>>;
