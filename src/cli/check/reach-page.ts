import type { PlacesNear } from '../../analysis/reach/pilot-reach.js';
import { type Child, type Element, element, markup } from '../../drawing/markup.js';
import { nearFigure } from '../../drawing/near-figure.js';
import { offsetsFigure } from '../../drawing/offsets-figure.js';
import { pageText } from '../../drawing/page.js';
import { figuresList, heads, named, pageHead, paragraphs, section } from '../../drawing/page-parts.js';
import { capitalised } from '../../exporters/words/groups.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { formatFrequency } from '../../units/format.js';
import { centsBetween, hz } from '../../units/quantity.js';
import { deskName } from '../words/load-desk.js';
import type { CheckedTarget } from './reach-lines.js';
import { reachNotes, reachPairs } from './reach-table.js';
import {
  deepestShownDb,
  narrowWarning,
  nearCells,
  nearRows,
  nextText,
  noCutText,
  offsetNumbers,
  reachResult,
  settingCells,
  takenRows,
  takenText,
  twoSettingsText,
} from './reach-words.js';

/** A target, and where its bells and notches can stand around the pilot. */
export interface FoundReach extends CheckedTarget {
  readonly places: PlacesNear;
}

const sides = { below: 'below', 'on it': 'at', above: 'above' } as const;

const windowText = ({ pilotHz, windowHz }: GuardScope): string =>
  `the pilot, ${formatFrequency(pilotHz)}, ±${windowHz} Hz`;

const oneFigure = ({ id, reach, places }: FoundReach, scope: GuardScope): Element => {
  const next = nearRows(reach).flatMap(([word, near]) =>
    near
      ? [
          {
            side: sides[word as keyof typeof sides],
            offsetHz: near.offsetHz,
            text: `${word}: ${nearCells(near).slice(0, 3).join(', ')}`,
          },
        ]
      : [],
  );
  const settings = [reach.best, reach.narrowest];
  const names = ['best', 'narrowest'];
  return nearFigure({
    title: `${id}: frequencies next to the pilot`,
    description: reach.nearest
      ? [nextText(reach), ...next.map(({ text }) => `${text}.`)].join(' ')
      : noCutText(reach),
    windowHz: reach.windowHz,
    next,
    offsetsHz: places.areTooMany ? null : places.offsetsHz,
    reachHz: places.reachHz,
    ways: takenRows(reach)
      .slice(0, -2)
      .map(([name = '', ...told], way) => ({
        name,
        takenDb: settings.map((setting) => setting?.byRealisation[way]?.pilotAttenuationDb ?? null),
        text: `${told.map((each) => (each === '' ? 'none' : each)).join(' / ')} dB`,
      })),
    deepestDb: deepestShownDb,
    words: {
      axis: 'Hz from the pilot',
      window: windowText(scope),
      others: places.areTooMany
        ? 'others: too close together to tell apart'
        : 'others its bells and notches can take',
      taken: 'Taken at the pilot by way of building: best / narrowest',
    },
    settings: settings.map((setting, index) => `${names[index]}: ${settingCells(setting)[0]}`),
  });
};

const severalFigure = (found: readonly FoundReach[], scope: GuardScope): Element => {
  const { pilotHz, windowHz } = scope;
  return offsetsFigure({
    title: 'How far frequencies next to the pilot lie from it',
    description: found
      .map((each) => `${deskName(each, found)}: ${reachPairs(each.reach)[2]?.join(' ')}.`)
      .join(' '),
    windowCents: [
      centsBetween(pilotHz, hz(pilotHz - windowHz)),
      centsBetween(pilotHz, hz(pilotHz + windowHz)),
    ],
    rows: found.map((each) => {
      const { below, at, above, nearest } = each.reach;
      return {
        name: deskName(each, found),
        belowCents: below?.offsetCents ?? null,
        atCents: at?.offsetCents ?? null,
        aboveCents: above?.offsetCents ?? null,
        nearest: at ? 'on it' : nearest ? `nearest ${offsetNumbers(nearest)[1]} cents` : 'none',
      };
    }),
    words: {
      axis: 'cents from the pilot',
      window: windowText(scope),
      below: 'next below',
      at: 'on it',
      above: 'next above',
      beyond: 'further off than is shown',
    },
  });
};

/** A row of figures under each other's heads. */
const figuresTable = (head: readonly string[], rows: readonly (readonly string[])[]): Element =>
  element(
    'table',
    {},
    heads(...head),
    element(
      'tbody',
      {},
      rows.map(([first = '', ...cells]) =>
        element(
          'tr',
          {},
          element('th', { scope: 'row' }, named(first)),
          cells.map((cell) => element('td', { class: 'number' }, cell)),
        ),
      ),
    ),
  );

const oneBody = (told: FoundReach, scope: GuardScope): readonly Child[] => {
  const { reach } = told;
  if (!reach.nearest) return [section('none', 'Nothing to set', paragraphs([noCutText(reach)]))];
  const warning = narrowWarning(reach);
  return [
    element(
      'div',
      { class: 'split' },
      section(
        'next',
        'Next to the pilot',
        element('figure', {}, oneFigure(told, scope)),
        paragraphs([nextText(reach)]),
        figuresList(nearRows(reach).map(([word, near]) => [capitalised(word), nearCells(near).join(', ')])),
      ),
      section(
        'settings',
        'What one setting takes',
        ...(warning === null ? [] : [element('p', { class: 'caution' }, warning)]),
        paragraphs([twoSettingsText(reach, scope)]),
        figuresList([
          ['Best', settingCells(reach.best).join(', ')],
          ['Narrowest', settingCells(reach.narrowest).join(', ')],
        ]),
        paragraphs([takenText(reach)]),
        figuresTable(['built as', 'best dB', 'narrowest dB'], takenRows(reach)),
      ),
    ),
  ];
};

const card = (each: FoundReach, found: readonly FoundReach[]): Element =>
  element(
    'li',
    {},
    element('h3', {}, named(deskName(each, found))),
    element('p', { class: 'quiet small' }, named(each.title)),
    figuresList(reachPairs(each.reach).map(([what, told]) => [capitalised(what), told])),
  );

const severalBody = (found: readonly FoundReach[], scope: GuardScope): readonly Child[] => [
  element(
    'div',
    { class: 'split' },
    section('offsets', 'At a glance', element('figure', {}, severalFigure(found, scope))),
    section('reading', 'How to read it', paragraphs(reachNotes(scope))),
  ),
  section(
    'targets',
    'Grid by grid',
    element(
      'ul',
      { class: 'cards' },
      found.map((each) => card(each, found)),
    ),
  ),
];

/** How near grids come to the pilot, as one page: one of them closely, or several side by side. */
export const reachPage = (found: readonly FoundReach[], scope: GuardScope, isOne: boolean): string => {
  const [first] = found;
  const about = `Frequencies next to the pilot, ${formatFrequency(scope.pilotHz)}`;
  const title = first && isOne ? `${first.id}: ${first.title}` : about;
  return pageText({
    title: first && isOne ? `${title}. ${about}` : title,
    id: 'check',
    body: [
      pageHead({
        title,
        under: first && isOne ? [about] : [],
        verdict: { text: reachResult(found, isOne), is: 'plain' },
      }),
      element('main', {}, first && isOne ? oneBody(first, scope) : severalBody(found, scope)),
    ],
  });
};

/** The same as a picture that stands alone. */
export const reachSvg = (found: readonly FoundReach[], scope: GuardScope, isOne: boolean): string => {
  const [first] = found;
  return `${markup(first && isOne ? oneFigure(first, scope) : severalFigure(found, scope))}\n`;
};
