import type { FilterType } from '../../filters/filter.js';
import type { Knob } from '../../model/knob.js';

/** How a filter type may tell its width, and whether it has a gain. */
export interface FilterForm {
  readonly widths: readonly (Knob & ('q' | 'bandwidth' | 'slope'))[];
  /** A shelf has a usual width; every other type must tell one. */
  readonly widthMayBeLeftOut: boolean;
  readonly gain: boolean;
}

const cut: FilterForm = { widths: ['slope', 'q'], widthMayBeLeftOut: false, gain: false };
const placed: FilterForm = { widths: ['q', 'bandwidth'], widthMayBeLeftOut: false, gain: false };
const bell: FilterForm = { ...placed, gain: true };
const shelf: FilterForm = { widths: ['q'], widthMayBeLeftOut: true, gain: true };

/** What tells a filter of each type, as the W3C Audio EQ Cookbook has it, and slopes for cuts. */
export const filterForms: Readonly<Record<FilterType, FilterForm>> = {
  lowpass: cut,
  highpass: cut,
  bandpass: placed,
  notch: placed,
  allpass: { ...placed, widths: ['q'] },
  peaking: bell,
  lowshelf: shelf,
  highshelf: shelf,
};
