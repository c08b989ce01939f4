import { type Element, element } from '../../drawing/markup.js';
import { named } from '../../drawing/page-parts.js';
import type { Recipe, RecipeMix } from '../../model/recipe.js';
import { isDialledTwice, linkWords, outputsText } from '../words/groups.js';

/** The system a mix feeds and its link, once where they are called the same. */
const systemText = ({ system, link }: RecipeMix): string =>
  [...new Set([system, link === null ? null : linkWords[link]])].filter((word) => word !== null).join(', ');

const systemElements = (mix: RecipeMix): readonly Element[] => {
  const told = systemText(mix);
  return told === '' ? [] : [named(told, { class: 'quiet small' })];
};

/** The system of all mixes of a group; null where they feed different ones. */
export const sharedSystem = (mixes: readonly RecipeMix[]): string | null => {
  const [first, another] = new Set(mixes.map(systemText));
  return another === undefined ? (first ?? '') : null;
};

/** What a mix is dialled by: its outputs, or each of them where each has filters of its own. */
const legsOf = (mix: RecipeMix, recipe: Recipe): readonly string[] =>
  isDialledTwice(mix, recipe) ? mix.outputs.map(String) : [outputsText(mix)];

/** A mix with a box for each time it is dialled; the only box goes with the name, so that a thumb finds it. */
const tickItem = (mix: RecipeMix, recipe: Recipe, tellsSystem: boolean): Element => {
  const legs = legsOf(mix, recipe);
  const system = tellsSystem ? [' ', ...systemElements(mix)] : [];
  const name = element('span', { class: 'name' }, named(mix.name), system);
  const boxes = legs.map((leg) =>
    element(
      'label',
      {},
      element('input', {
        type: 'checkbox',
        // The place of the mix in the recipe, and the output: no two boxes share it.
        'data-tick': `${recipe.mixes.indexOf(mix)}:${leg}`,
        ...(legs.length === 1 ? {} : { 'aria-label': `${leg}, ${mix.name}` }),
      }),
      element('span', { class: mix.outputs.length > 0 ? 'output' : undefined }, leg),
      ...(legs.length === 1 ? [name] : []),
    ),
  );
  return element('li', {}, boxes, ...(legs.length === 1 ? [] : [name]));
};

/** The mixes of a group, each with its boxes to tick, and its system where they feed different ones. */
export const tickList = (mixes: readonly RecipeMix[], recipe: Recipe): Element =>
  element(
    'ul',
    { class: 'mixes' },
    mixes.map((mix) => tickItem(mix, recipe, sharedSystem(mixes) === null)),
  );

/** Mixes that nothing is dialled on. */
export const plainList = (mixes: readonly RecipeMix[]): Element =>
  element(
    'ul',
    {},
    mixes.map((mix) =>
      element(
        'li',
        {},
        element('strong', {}, outputsText(mix)),
        ' ',
        named(mix.name),
        ' ',
        systemElements(mix),
      ),
    ),
  );
