import type { Hz, Octaves, Q } from '../../units/quantity.js';
import type { FilterType } from '../filter.js';
import type { SectionPlan } from '../prototype.js';
import type { DesignName } from '../realisation.js';
import type { Section } from '../section.js';

/** A way of turning planned sections into coefficients: a plain object, the plug-in of this room. */
export interface Design {
  readonly name: DesignName;
  /** One line for people. */
  readonly summary: string;
  /** The types it has formulae for; the cookbook stands in for the others (see `designFor`). */
  readonly covers: readonly FilterType[];
  readonly domain: Section['domain'];
  /** The Q of a filter told by its bandwidth in octaves. `rateHz` as in `section`. */
  readonly qOfBandwidth: (bandwidthOctaves: Octaves, frequencyHz: Hz, rateHz: Hz) => Q;
  /** Makes one section. `rateHz` is the sample rate or, in the domain 's', the filter's own frequency. */
  readonly section: (plan: SectionPlan, rateHz: Hz) => Section;
}
