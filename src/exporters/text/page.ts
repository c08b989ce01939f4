import type { FilterType } from '../../filters/filter.js';
import type { Emphasise } from '../../layout/emphasis.js';

/** What the desk calls its filter types, where it says. */
export type TypeLabels = Readonly<Partial<Record<FilterType, string>>>;

/** What lines are made for. */
export interface Page {
  readonly labels: TypeLabels;
  readonly columns: number;
  readonly emphasise: Emphasise;
}
