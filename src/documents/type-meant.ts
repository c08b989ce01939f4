import { type FilterType, filterTypes } from '../filters/filter.js';
import { typeWords } from '../model/words.js';

const plain = (text: string): string => text.toLowerCase().replace(/[^a-z]/g, '');

/** The filter type that words for people mean: `highpass` for `low cut`. */
export const typeMeant = (text: string): FilterType | undefined =>
  filterTypes.find((type) => plain(typeWords[type]) === plain(text));
