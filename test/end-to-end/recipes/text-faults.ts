import type { Recipe } from './matrix.js';
import type { FilterJson } from './shapes.js';

const literal = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** The page between its rules: a block for mixes that get the same, one for mixes to leave alone, notes. */
export const blocksOf = ({ files }: Recipe): readonly string[] =>
  (files['recipe.txt']?.toString('utf8') ?? '').split(/^-{40,}$/m);

/** A row that begins with the slot and shows the frequency. */
const rowOf = ({ slot, steps }: FilterJson): RegExp =>
  new RegExp(`^${literal(slot)} .*  ${literal(steps.frequency?.display ?? '')}( |$)`, 'm');

/** Mixes to dial that are not told, and filters of theirs that are not. */
export const dialFaults = (recipe: Recipe): readonly string[] =>
  recipe.json.mixes
    .filter(({ treatment }) => treatment === 'protect')
    .flatMap(({ name, filters }) => {
      const block = blocksOf(recipe).find((each) => each.includes(name) && /^slot /m.test(each));
      if (!block) return [`${name} is not told`];
      return filters
        .filter((placed) => !rowOf(placed).test(block))
        .map(({ slot, steps }) => `${name}: slot ${slot}, ${steps.frequency?.display} is not told`);
    });

/** Columns a line takes on a screen: Han characters take two (Unicode Standard Annex 11). */
export const columnsOf = (line: string): number =>
  [...line].length + (line.match(/\p{Script=Han}/gu)?.length ?? 0);
