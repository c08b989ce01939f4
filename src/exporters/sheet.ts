import { type Element, element } from '../drawing/markup.js';
import { pageText } from '../drawing/page.js';
import { givenTexts, named } from '../drawing/page-parts.js';
import type { Recipe } from '../model/recipe.js';
import { digestOf } from '../units/digest.js';
import { ok } from '../units/result.js';
import type { ExportContext, Exporter, SheetContext } from './exporter.js';
import { recipeJson } from './json.js';
import { endSections } from './sheet/end-sections.js';
import { type Group, groupId, groupSection } from './sheet/group-section.js';
import { tickScript } from './sheet/tick-script.js';
import { dialGroups, outputsText } from './words/groups.js';
import { firstCaution } from './words/notes.js';
import { resultText, shortNames } from './words/result.js';

const whereAndWhen = ({ venue, date }: SheetContext): readonly string[] => givenTexts([venue, date]);

/** What stands on top of each sheet of paper that a group is on. */
const paperHead = ({ rig, target }: Recipe, sheet: SheetContext): Element =>
  element(
    'p',
    { class: 'paper' },
    element(
      'span',
      {},
      [rig.title, `${target.title} (${target.id})`, ...whereAndWhen(sheet)].flatMap((text, index) => [
        ...(index === 0 ? [] : [' · ']),
        named(text),
      ]),
    ),
  );

/** The verdict on all of it: only what is met everywhere, with nothing missing and nothing told, is good. */
const verdictElement = (recipe: Recipe, { advice = [] }: SheetContext): Element => {
  const guarded = recipe.mixes.some(({ guard }) => guard !== null);
  const isShort =
    recipe.problems.length > 0 ||
    recipe.mixes.some(({ guard, missing }) => guard?.verdict === 'falls-short' || missing.length > 0);
  const names = shortNames(recipe);
  const links = [
    ...(advice.length > 0 ? [['advice', 'What may help'] as const] : []),
    ...(recipe.problems.length > 0 ? [['problems', 'What could not be done as asked'] as const] : []),
  ];
  return element(
    'div',
    { class: `verdict ${isShort ? 'bad' : guarded ? 'good' : ''}`.trim() },
    element('p', {}, named(`${resultText(recipe)}.`)),
    ...(names.length === 0 ? [] : [element('p', { class: 'small' }, named(`Short: ${names.join('; ')}.`))]),
    ...links.map(([id, text]) => element('p', { class: 'small' }, element('a', { href: `#${id}` }, text))),
  );
};

const navText = ({ number, mixes }: Group): string =>
  mixes.length > 4 ? `${number}: ${mixes.length} mixes` : mixes.map(outputsText).join(', ');

/** A way to each group by the outputs it is for, where there are several. */
const navElement = (groups: readonly Group[]): readonly Element[] =>
  groups.length < 2
    ? []
    : [
        element(
          'nav',
          { 'aria-label': 'Groups of mixes by output' },
          groups.map((group) => element('a', { href: `#${groupId(group)}` }, navText(group))),
        ),
      ];

const headElement = (recipe: Recipe, sheet: SheetContext, groups: readonly Group[]): Element => {
  const when = whereAndWhen(sheet);
  return element(
    'header',
    {},
    element('h1', {}, named(recipe.rig.title)),
    element('p', {}, named(recipe.target.title), ' (', named(recipe.target.id), ')'),
    ...(when.length === 0
      ? []
      : [
          element(
            'p',
            { class: 'quiet' },
            when.flatMap((text, index) => (index === 0 ? [named(text)] : [', ', named(text)])),
          ),
        ]),
    verdictElement(recipe, sheet),
    element('p', { class: 'caution' }, firstCaution),
    element(
      'div',
      { class: 'ticks screen' },
      element(
        'p',
        { id: 'ticks', class: 'quiet small', role: 'status' },
        'Boxes are not remembered: this browser runs no scripts here.',
      ),
      element('button', { id: 'clear-ticks', type: 'button', hidden: 'hidden' }, 'Clear all ticks'),
    ),
    ...navElement(groups),
  );
};

const page = (recipe: Recipe, { target, desk, sheet = {} }: ExportContext): string => {
  const groups = dialGroups(recipe).map((mixes, index): Group => ({ number: index + 1, mixes }));
  const recipeDigest = digestOf(recipeJson(recipe));
  return pageText({
    title: [recipe.rig.title, ...whereAndWhen(sheet)].join(', '),
    // Another evening with the same settings begins without ticks.
    id: digestOf([recipeDigest, sheet.venue ?? '', sheet.date ?? ''].join('\n')),
    script: tickScript,
    body: [
      headElement(recipe, sheet, groups),
      element(
        'main',
        {},
        groups.map((group) =>
          groupSection(group, recipe, { target, ...(desk ? { desk } : {}) }, paperHead(recipe, sheet)),
        ),
        endSections(recipe, target, sheet, recipeDigest),
      ),
    ],
  });
};

/**
 * The recipe as one page to look at, on a phone, a screen or paper: what to dial, what it does, what is uncertain. It needs no
 * network and no other file. WHATWG HTML; mixes that get the same are told once.
 */
export const sheet: Exporter = {
  name: 'sheet',
  summary: 'one page to look at: a phone, a screen, paper',
  fileName: 'recipe.html',
  mediaType: 'text/html; charset=utf-8',
  content: (recipe, context) => ok(page(recipe, context)),
};
