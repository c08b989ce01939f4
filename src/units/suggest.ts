import { distance } from 'fastest-levenshtein';
import { quote } from './quote.js';

const longestCompared = 64;
const mostListed = 16;

const letters = (word: string): string => [...word].sort().join('');

/** Whether two words differ by few enough letters, or by their order, to be one word mistyped. */
const near = (word: string, candidate: string): boolean =>
  distance(word, candidate) * 3 <= Math.max(word.length, candidate.length) ||
  letters(word) === letters(candidate);

/** The candidate a mistyped or shortened word most likely means, if any is likely. */
export const closest = (word: string, candidates: readonly string[]): string | undefined => {
  if (word.length === 0 || word.length > longestCompared) return undefined;
  const lower = word.toLowerCase();
  const away = (candidate: string): number => distance(lower, candidate.toLowerCase());
  const [mistyped] = candidates
    .filter((candidate) => near(lower, candidate.toLowerCase()))
    .sort((a, b) => away(a) - away(b));
  const shortened = candidates.find(
    (candidate) => word.length >= 3 && candidate.toLowerCase().startsWith(lower),
  );
  return mistyped !== undefined && away(mistyped) <= 1 ? mistyped : (shortened ?? mistyped);
};

/** `; did you mean "feeds"?`, which ends the sentence; nothing where no candidate is near, and the full stop is to come. */
export const didYouMean = (word: string, candidates: readonly string[]): string => {
  const meant = closest(word, candidates);
  return meant === undefined ? '' : `; did you mean ${quote(meant)}?`;
};

/** Words as people join them: `frequency, q and gain`. */
export const inWords = (words: readonly string[], by: 'and' | 'or'): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${by} ${words.at(-1)}`;

/** Words for a list of values from outside, not too long: `"a", "b" and 3 more`. */
export const listed = (values: readonly unknown[]): string => {
  const shown = values.slice(0, mostListed).map(quote).join(', ');
  return values.length > mostListed ? `${shown} and ${values.length - mostListed} more` : shown;
};
