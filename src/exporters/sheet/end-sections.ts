import { type Element, element } from '../../drawing/markup.js';
import { command, named, section } from '../../drawing/page-parts.js';
import type { Recipe } from '../../model/recipe.js';
import type { Target } from '../../model/target.js';
import { canBeAsked } from '../../osc/asking.js';
import type { SheetContext } from '../exporter.js';
import { capitalised, leaveAloneGroups } from '../words/groups.js';
import { cautions, firstCaution, problemTexts } from '../words/notes.js';
import { fitWords, triedText } from '../words/result.js';
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

/** An address for documentation (RFC 5737): nobody's desk. */
const exampleHost = '192.0.2.7';

/** Why the recipe cannot be pushed; null where it can. */
const unpushable = ({ mixes }: Recipe, { osc }: Target): string | null => {
  if (!osc) return 'No way to reach this desk over a network is known here: dial it by hand.';
  return mixes.some(({ treatment, outputs }) => treatment !== 'leave-alone' && outputs.length === 0)
    ? 'No output is named, so there is nothing to push to: make the recipe with --outputs.'
    : null;
};

/** How the recipe gets onto the desk over its network, and is looked at again. */
const pushing = (
  recipe: Recipe,
  target: Target,
  { jsonCommand, writesJson = false, deskWords = '', gridWords = '' }: SheetContext,
): Element => {
  const why = unpushable(recipe, target);
  if (why !== null) return section('push', 'Push and verify', element('p', {}, why));
  const push = (words: string) => command(`bandwright ${words} --to ${exampleHost}`);
  const after = (words: string) => (words === '' ? '' : ` ${words}`);
  const desk = after(deskWords);
  const canBeRead = canBeAsked(target);
  return section(
    'push',
    'Push and verify',
    element('p', { class: 'caution' }, firstCaution),
    element(
      'p',
      {},
      `What is pushed is this recipe as JSON, recipe.json${writesJson ? ', written beside this sheet' : ''}.`,
    ),
    ...(jsonCommand === undefined || writesJson
      ? []
      : [element('p', {}, 'To write it:'), command(jsonCommand)]),
    element(
      'p',
      {},
      `Put the address of your desk in the place of ${exampleHost}. To see what would be sent, and send nothing:`,
    ),
    command(`bandwright push recipe.json${desk} --dry-run`),
    ...(canBeRead
      ? [
          element('p', {}, 'To set it, and to read it again later:'),
          push(`push recipe.json${desk}`),
          push(`verify recipe.json${desk}`),
          element('p', {}, 'To be told through the show when something is turned:'),
          push(`watch recipe.json${desk}`),
          element('p', {}, 'To put back what was there before:'),
          push(`restore --last${after(gridWords)}`),
        ]
      : [
          element(
            'p',
            {},
            'This desk cannot be read: what was there is not kept, and nothing proves what was set. To send it all the same:',
          ),
          push(`push recipe.json${desk} --blind`),
        ]),
  );
};

const origin = (recipe: Recipe, { inputs = [] }: SheetContext, recipeDigest: string): Element =>
  section(
    'origin',
    'How it was made',
    element('p', {}, `Fit: ${fitWords[recipe.fit]}.`),
    element('p', {}, `Tried on the real desk: ${triedText(recipe)}.`),
    element(
      'p',
      { class: 'small' },
      'SHA-256 of each file it was made of, and of the recipe as JSON: where that is the same, so is what is to be dialled.',
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

/** What may help where a guard falls short. */
const adviceSection = ({ advice = [] }: SheetContext): readonly Element[] =>
  advice.length === 0
    ? []
    : [
        section(
          'advice',
          'What may help',
          advice.flatMap((each) => [
            element('p', {}, each.text),
            ...(each.command === undefined ? [] : [command(each.command)]),
          ]),
        ),
      ];

/** What comes after all that is to be dialled. */
export const endSections = (
  recipe: Recipe,
  target: Target,
  sheet: SheetContext,
  recipeDigest: string,
): readonly Element[] => [
  ...leaveAlone(recipe),
  ...adviceSection(sheet),
  ...told('problems', 'Problems: what could not be done as asked', problemTexts(recipe.problems, recipe)),
  ...told('assumptions', 'Assumptions: what the files did not say', problemTexts(recipe.assumptions, recipe)),
  ...told('cautions', 'Cautions', cautions),
  pushing(recipe, target, sheet),
  origin(recipe, sheet, recipeDigest),
];
