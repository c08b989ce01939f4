import { quote } from '../units/quote.js';
import type { Target } from './target.js';

/** Two desk outputs that share their filters, left first. */
export type OutputPair = readonly [left: number, right: number];

type Outputs = Target['outputs'];

/** `15/16`, as people name a pair and a target lists it. */
const pairName = (pair: readonly number[]): string => pair.join('/');

/** The numbers of a pair as a target lists it; the schema holds its form. */
export const pairNamed = (name: string): OutputPair => {
  const [left = 0, right = 0] = name.split('/').map(Number);
  return [left, right];
};

const oddEven = (count: number): readonly OutputPair[] =>
  Array.from({ length: Math.floor(count / 2) }, (_, index) => [2 * index + 1, 2 * index + 2] as const);

/**
 * The pairs a desk has whose pairs share their filters: each odd output with the next even one unless the target
 * tells others; `any` where whoever sets the desk up may pair any two.
 */
export const deskPairs = ({ count, pairs = 'odd-even' }: Outputs): readonly OutputPair[] | 'any' => {
  if (typeof pairs !== 'string') return pairs.map(pairNamed);
  return pairs === 'any' ? 'any' : oddEven(count);
};

const mostListed = 8;

/** Which outputs of a desk are pairs, in words: `1/2, 3/4 and so on to 15/16`. */
export const pairsText = (outputs: Outputs): string => {
  const pairs = deskPairs(outputs);
  if (pairs === 'any') return 'any two outputs';
  const names = pairs.map(pairName);
  if (names.length <= 2) return names.join(' and ') || 'none';
  if (outputs.pairs === undefined || outputs.pairs === 'odd-even') {
    return `${names.slice(0, 2).join(', ')} and so on to ${names.at(-1)}`;
  }
  const more = names.length > mostListed ? ` and ${names.length - mostListed} more` : '';
  return `${names.slice(0, mostListed).join(', ')}${more}`;
};

/**
 * Why two outputs are no pair of a desk whose pairs share their filters, and what to write; null where they are one,
 * or are not two, or each has filters of its own. Only one of a pair is ever written to, so the other of two that do
 * not share would be left unguarded. `written` spells a pair as it is spelt where they stand.
 */
export const pairFault = (
  outputs: readonly number[],
  { id, outputs: desk }: Pick<Target, 'id' | 'outputs'>,
  written = (pair: OutputPair): string => `[${pair.join(', ')}]`,
): string | null => {
  const [left, right] = outputs;
  if (left === undefined || right === undefined || desk.stereo === 'legs-separate') return null;
  const pairs = deskPairs(desk);
  if (pairs === 'any' || pairs.some((pair) => pair[0] === left && pair[1] === right)) return null;
  const near = pairs.filter((pair) => pair.includes(left) || pair.includes(right));
  const names = near.map(written).join(' or ');
  const target = `target ${quote(id)}`;
  if (near.some((pair) => pair[0] === right && pair[1] === left)) {
    return `Outputs ${left} and ${right} stand the wrong way round: on ${target} the left of the pair is ${right}. Write ${written([right, left])}.`;
  }
  const instead = names === '' ? 'Take' : `Write ${names}, or take`;
  return `Outputs ${left} and ${right} are no pair on ${target}, where a pair shares its filters and only its first output is set. Its pairs are ${pairsText(desk)}. ${instead} each output by itself; if the desk does pair them, say so in the target's outputs.pairs.`;
};
