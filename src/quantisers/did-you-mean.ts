import { closest, distance } from 'fastest-levenshtein';
import { quoteText } from '../units/quote.js';

/** The known word that somebody most likely meant, or null where none is near. */
export const nearestWord = (word: string, known: readonly string[]): string | null => {
  // Past 64 characters nothing is a slip of the fingers, and the distance costs time.
  if (known.length === 0 || word.length > 64) return null;
  const found = closest(word.toLowerCase(), known);
  const slips = distance(word.toLowerCase(), found);
  // Two letters swapped count as two slips.
  return slips <= Math.min(3, Math.max(1, found.length / 2)) ? found : null;
};

/** `; did you mean "geometric"?` to add to a message, or nothing. */
export const didYouMean = (word: string, known: readonly string[]): string => {
  const found = nearestWord(word, known);
  return found === null ? '' : `; did you mean ${quoteText(found)}?`;
};
