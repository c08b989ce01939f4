import type { FilterType } from '../filter.js';
import type { DesignName } from '../realisation.js';
import { analogueDesign } from './analogue.js';
import { cookbookDesign } from './cookbook.js';
import type { Design } from './design.js';
import { matchedDesign } from './matched.js';
import { nyquistGainDesign } from './nyquist-gain.js';

/** Every design there is. A new one is added here and to `designNames`. */
export const designs: Readonly<Record<DesignName, Design>> = {
  cookbook: cookbookDesign,
  matched: matchedDesign,
  'nyquist-gain': nyquistGainDesign,
  analogue: analogueDesign,
};

/** The design that makes a type: the one named where it covers the type, else the cookbook. */
export const designFor = (name: DesignName, type: FilterType): Design =>
  designs[name].covers.includes(type) ? designs[name] : cookbookDesign;
