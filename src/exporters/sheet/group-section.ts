import { type Child, type Element, element } from '../../drawing/markup.js';
import { heads, named, typeset, unbroken } from '../../drawing/page-parts.js';
import { responseFigure } from '../../drawing/response-figure.js';
import { type Knob, knobNames } from '../../model/knob.js';
import type { Guard, PlacedFilter, Recipe, RecipeMix } from '../../model/recipe.js';
import type { ExportContext } from '../exporter.js';
import { mixResponse } from '../mix-response.js';
import { choicesOf, type SettingChoice, tenths } from '../words/choices.js';
import {
  figureText,
  guardWords,
  isMissed,
  judgedFigures,
  missingText,
  missText,
  originText,
  overProgrammeText,
} from '../words/figures.js';
import { bothLegs, capitalised, hasNothingToDial, isDialledTwice, outputsText } from '../words/groups.js';
import { displayText, filterText, type TypeLabels } from '../words/settings.js';
import { clickWords, errorWords, knobWords } from './knob-words.js';
import { plainList, sharedSystem, tickList } from './mix-list.js';

/** What is told of a group: its number on the sheet, its mixes, the first of which stands for all. */
export interface Group {
  readonly number: number;
  readonly mixes: readonly [RecipeMix, ...RecipeMix[]];
}

/** The place of a group on its page. */
export const groupId = ({ number }: Group): string => `group-${number}`;

const groupTitle = ({ mixes }: Group): string => {
  if (hasNothingToDial(mixes[0])) return 'Nothing to dial: no filter found a slot';
  return mixes.length === 1 ? 'Dial for one mix' : `Dial once, copy to ${mixes.length} mixes`;
};

/** A knob in a line: what to set, large, and beside it how to find it and how far it lies off. */
const knobElement = (knob: Knob, placed: PlacedFilter, pilotHz: number | null): readonly Element[] => {
  const position = placed.steps[knob];
  if (!position) return [];
  const beside = [clickWords(position), errorWords(knob, placed, pilotHz)].filter((text) => text !== '');
  return [
    element(
      'div',
      {},
      element('dt', { class: 'unseen' }, knobWords[knob]),
      // What cannot be turned is no figure to dial.
      element(
        'dd',
        { class: position.of === 1 ? 'value fixed' : 'value' },
        named(displayText(knob, position)),
      ),
      element('dd', {}, unbroken(beside.join('; '))),
    ),
  ];
};

const filterElement = (placed: PlacedFilter, labels: TypeLabels, pilotHz: number | null): Element =>
  element(
    'li',
    {},
    element('h3', {}, 'Slot ', named(placed.slot), ': ', named(filterText(placed, labels))),
    element(
      'dl',
      { class: 'knobs' },
      knobNames.flatMap((knob) => knobElement(knob, placed, pilotHz)),
    ),
  );

/** Whether the guard is met, and each figure with the limit it is held to. */
const guardElements = (mix: RecipeMix, guard: Guard): readonly Element[] => {
  const figures = judgedFigures(guard);
  const missed = figures.filter(isMissed).map(missText);
  const told = [
    missed.length === 0 ? guardWords[guard.verdict] : `${guardWords[guard.verdict]}: ${missed.join(', ')}`,
    ...mix.missing.map(missingText),
  ].join('; ');
  const isGood = guard.verdict === 'met' && mix.missing.length === 0;
  return [
    element('p', { class: `verdict ${isGood ? 'good' : 'bad'}` }, named(unbroken(told))),
    element(
      'ul',
      {},
      figures.map((judged) =>
        element(
          'li',
          {},
          element('strong', {}, capitalised(judged.what)),
          `: ${unbroken(typeset(figureText(judged)))}.`,
        ),
      ),
      element(
        'li',
        {},
        element('strong', {}, 'Pilot over programme'),
        `: ${unbroken(overProgrammeText(guard))}.`,
      ),
    ),
    element('p', { class: 'quiet small' }, `${capitalised(originText(guard.byRealisation.length))}.`),
  ];
};

/** A text in which what somebody may copy is not broken. */
const withWhole = (text: string, whole: readonly string[] = []): readonly Child[] => {
  const [copied = ''] = whole;
  const at = copied === '' ? -1 : text.indexOf(copied);
  return at < 0 ? [text] : [text.slice(0, at), element('code', {}, copied), text.slice(at + copied.length)];
};

/** A choice in two rows, its figures and how it is had: side by side a phone has no room for both. */
const choiceRows = ({ name, pilot, music, about, whole }: SettingChoice): readonly Element[] => [
  element(
    'tr',
    {},
    element('th', { scope: 'row' }, capitalised(name)),
    element('td', { class: 'number' }, pilot),
    element('td', { class: 'number' }, music),
  ),
  element(
    'tr',
    { class: 'about' },
    element('td', { colspan: 3 }, withWhole(unbroken(typeset(capitalised(about.join('; ')))), whole)),
  ),
];

/** What dialling by hand would give, and what another limit would: each beside what was chosen. */
const choiceElements = (mix: RecipeMix): readonly Element[] => {
  const choices = choicesOf(mix);
  if (choices.length === 0) return [];
  return [
    element('h3', {}, 'By hand, chosen, and what else could be had'),
    element(
      'table',
      { class: 'choices' },
      heads('setting', 'pilot dB down', 'music dB lost'),
      element('tbody', {}, choices.flatMap(choiceRows)),
    ),
  ];
};

/** The figures of every way of building, behind a fold: few look, and who looks wants all. */
const waysElement = ({ byRealisation }: Guard): Element =>
  element(
    'details',
    {},
    element('summary', {}, 'Figures for each way the desk may build its filters'),
    element(
      'table',
      { class: 'ways' },
      heads('way', 'pilot dB down', 'music dB lost', 'dB rise'),
      element(
        'tbody',
        {},
        byRealisation.map(({ id, pilotAttenuationDb, keepLossDb, riseDb }) =>
          element(
            'tr',
            {},
            element('th', { scope: 'row' }, named(id)),
            [pilotAttenuationDb, keepLossDb, riseDb].map((figureDb) => element('td', {}, tenths(figureDb))),
          ),
        ),
      ),
    ),
  );

const pictureElement = (view: ReturnType<typeof mixResponse>): Element =>
  view.ok ? element('figure', {}, responseFigure(view.value)) : element('p', {}, named(view.error));

/** What mixes have in common: their system; and their outputs, which boxes to tick tell only further down. */
const whoElements = (mixes: readonly RecipeMix[]): readonly Element[] => {
  const told = [
    ...(mixes.length > mostBoxesAbove ? [mixes.map(outputsText).join(', ')] : []),
    ...[sharedSystem(mixes) ?? ''].filter((text) => text !== ''),
  ];
  return told.length === 0 ? [] : [element('p', { class: 'quiet small' }, named(told.join('; ')))];
};

/** More boxes than this stand below what is to be dialled: on a phone they would push it off the screen. */
const mostBoxesAbove = 4;

const tickElements = (mixes: readonly RecipeMix[], recipe: Recipe): readonly Element[] => [
  tickList(mixes, recipe),
  ...(mixes.some((each) => isDialledTwice(each, recipe))
    ? [element('p', { class: 'small' }, `${capitalised(bothLegs)}.`)]
    : []),
];

/** Mixes that share settings: what to dial, what comes of it, and how that looks over frequency. */
export const groupSection = (
  group: Group,
  recipe: Recipe,
  context: Pick<ExportContext, 'target' | 'desk'>,
  paperHead: Element,
): Element => {
  const { mixes, number } = group;
  const [mix] = mixes;
  const { guard, filters } = mix;
  const { target } = context;
  const labels = recipe.target.id === target.id ? (target.display.typeLabels ?? {}) : {};
  const isLong = mixes.length > mostBoxesAbove;
  const boxes = hasNothingToDial(mix) ? [] : tickElements(mixes, recipe);
  const heading = `${groupId(group)}-title`;
  return element(
    'section',
    { class: 'group', id: groupId(group), 'aria-labelledby': heading },
    paperHead,
    element('h2', { id: heading }, `${number}. ${groupTitle(group)}`),
    ...whoElements(mixes),
    ...(isLong ? [] : boxes),
    element(
      'div',
      { class: 'split' },
      element(
        'div',
        {},
        filters.length > 0
          ? element(
              'ul',
              { class: 'filters' },
              filters.map((placed) => filterElement(placed, labels, guard?.pilotHz ?? null)),
            )
          : plainList(mixes),
        ...(mix.treatment === 'as-asked' ? [element('p', {}, `${capitalised(mix.reason)}.`)] : []),
        ...(guard ? guardElements(mix, guard) : []),
        ...(isLong ? boxes : []),
      ),
      element(
        'div',
        {},
        ...(filters.length > 0 ? [pictureElement(mixResponse(mixes, recipe, context))] : []),
        choiceElements(mix),
        ...(guard ? [waysElement(guard)] : []),
      ),
    ),
  );
};
