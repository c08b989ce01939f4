import { type Element, element } from '../../drawing/markup.js';
import { command, named, section } from '../../drawing/page-parts.js';
import type { Recipe } from '../../model/recipe.js';
import type { Target } from '../../model/target.js';
import type { SheetContext } from '../exporter.js';
import { evidenceText, fitWords } from '../text/full.js';
import { capitalised, leaveAloneGroups } from '../text/groups.js';
import { cautions, problemTexts } from '../text/notes.js';
import { plainList } from './mix-list.js';

const listed = (texts: readonly string[]): Element =>
  element(
    'ol',
    {},
    texts.map((text) => element('li', {}, named(text))),
  );

const leaveAlone = (recipe: Recipe): readonly Element[] => {
  const groups = leaveAloneGroups(recipe);
  if (groups.length === 0) return [];
  return [
    section(
      'leave-alone',
      'Leave alone',
      groups.flatMap((mixes) => [
        element('p', {}, named(`${capitalised(mixes[0].reason)}:`)),
        plainList(mixes),
      ]),
    ),
  ];
};

const told = (id: string, title: string, texts: readonly string[]): readonly Element[] =>
  texts.length === 0 ? [] : [section(id, title, listed(texts))];

/** How the recipe gets onto the desk over its network, and is looked at again. */
const pushing = ({ osc }: Target, { jsonCommand }: SheetContext): Element =>
  section(
    'push',
    'Push and verify',
    ...(osc
      ? [
          element(
            'p',
            {},
            jsonCommand === undefined
              ? 'The same recipe as JSON, here recipe.json, is what is pushed.'
              : 'The same recipe as JSON is what is pushed. It is written by:',
          ),
          ...(jsonCommand === undefined ? [] : [command(jsonCommand)]),
          element(
            'p',
            {},
            'Put in the address of your desk. The first command shows what would be written, and writes nothing.',
          ),
          command('bandwright push recipe.json --to 192.0.2.7:9000 --dry-run'),
          command('bandwright push recipe.json --to 192.0.2.7:9000'),
          command('bandwright verify recipe.json --to 192.0.2.7:9000'),
          element('p', {}, 'To put back what was there before:'),
          command('bandwright restore --last --to 192.0.2.7:9000'),
        ]
      : [element('p', {}, 'No way to reach this desk over a network is known here: dial it by hand.')]),
  );

const origin = (recipe: Recipe, { inputs = [] }: SheetContext, recipeDigest: string): Element =>
  section(
    'origin',
    'How it was made',
    element('p', {}, `Fit: ${fitWords[recipe.fit]}.`),
    element('p', {}, `Tried on the real desk: ${evidenceText(recipe)}.`),
    element(
      'p',
      { class: 'small' },
      'SHA-256 of each file, and of the recipe as JSON: where they are the same, so is this sheet.',
    ),
    element(
      'dl',
      { class: 'small' },
      [...inputs, { name: 'the recipe as JSON', sha256: recipeDigest }].flatMap(({ name, sha256 }) => [
        element('dt', {}, named(name)),
        element('dd', {}, element('code', {}, sha256)),
      ]),
    ),
  );

/** What comes after all that is to be dialled. */
export const endSections = (
  recipe: Recipe,
  target: Target,
  sheet: SheetContext,
  recipeDigest: string,
): readonly Element[] => [
  ...leaveAlone(recipe),
  ...told('problems', 'Problems: what could not be done as asked', problemTexts(recipe.problems, recipe)),
  ...told('assumptions', 'Assumptions: what the files did not say', problemTexts(recipe.assumptions, recipe)),
  ...told('cautions', 'Cautions', cautions),
  pushing(target, sheet),
  origin(recipe, sheet, recipeDigest),
];
