import type { ComparedDesk, ServedDesk } from '../../analysis/compare/compared-desk.js';
import { type Child, type Element, element, markup } from '../../drawing/markup.js';
import { type MeritRow, meritFigure } from '../../drawing/merit-figure.js';
import { pageText } from '../../drawing/page.js';
import {
  command,
  figuresList,
  givenTexts,
  named,
  pageHead,
  paragraphs,
  section,
} from '../../drawing/page-parts.js';
import { cautions } from '../../exporters/words/notes.js';
import type { Rig } from '../../model/rig.js';
import { besideLimit, downOrUp } from '../words/beside-limit.js';
import { exitCodes } from '../words/exit-code.js';
import { deskName } from '../words/load-desk.js';
import type { ShowOptions } from '../words/page-form.js';
import { comparisonHead, comparisonNotes } from './comparison-notes.js';
import { comparisonExitCode, comparisonResult } from './comparison-verdict.js';
import {
  dialsText,
  evidenceWords,
  lackTexts,
  musicText,
  sureText,
  unfitText,
  verdictWords,
} from './desk-words.js';

/** Desks that a rig was fitted on, and how each is had again. */
export interface FoundComparison {
  readonly rig: Rig;
  readonly compared: readonly ComparedDesk[];
  /** The command that makes the rig's recipe for a desk. */
  recipeCommand(desk: ComparedDesk): string | null;
}

const verdictOf = (desk: ComparedDesk): MeritRow['verdict'] => {
  const verdict = desk.fits ? desk.verdict : 'does-not-fit';
  const is = {
    met: 'good',
    'falls-short': 'bad',
    'nothing-to-guard': 'plain',
    'does-not-fit': 'plain',
  } as const;
  // A guard that is met without a filter that was asked for is not what was asked for.
  return verdict === 'met' && desk.fits && desk.missing.length > 0
    ? { text: 'FILTER MISSING', is: 'bad' }
    : { text: verdictWords[verdict], is: is[verdict] };
};

const titleOf = (desk: ComparedDesk, { compared }: FoundComparison): string =>
  `${compared.indexOf(desk) + 1}. ${deskName(desk, compared)}`;

/** What a desk comes to, each figure with its name. */
const figuresOf = (desk: ServedDesk): readonly (readonly [what: string, told: string])[] => {
  const { pilot, keepLossDb } = desk;
  const beside = pilot && besideLimit(pilot.attenuationDb, pilot.askedDb, 'at least');
  return [
    ...(pilot && beside
      ? [
          [
            'Pilot',
            `${downOrUp(pilot.attenuationDb, beside.figure)}, at least ${beside.limit} asked`,
          ] as const,
        ]
      : []),
    ...(keepLossDb === null ? [] : [['Music', `${musicText(keepLossDb)} dB lost`] as const]),
    ...(pilot ? [['Dials', dialsText(desk)] as const] : []),
  ];
};

const rowOf = (desk: ComparedDesk, told: FoundComparison): MeritRow => ({
  name: titleOf(desk, told),
  verdict: verdictOf(desk),
  pilot: desk.fits && desk.pilot ? { takenDb: desk.pilot.attenuationDb, askedDb: desk.pilot.askedDb } : null,
  figures:
    desk.fits && desk.pilot
      ? figuresOf(desk)
          .filter(([what]) => what !== 'Dials')
          .map(([, figure]) => figure)
          .join('; ')
      : '',
});

const figureOf = (told: FoundComparison): Element => {
  const [title = '', ...about] = comparisonHead(told.rig, told.compared);
  return meritFigure({
    title,
    description: [...about, comparisonResult(told.compared)].join(' '),
    rows: told.compared.map((desk) => rowOf(desk, told)),
    words: { taken: 'taken at the pilot', asked: 'asked there' },
  });
};

/** A desk on a card: what it comes to, and how to have it. */
const card = (desk: ComparedDesk, told: FoundComparison): Element => {
  const id = `desk-${told.compared.indexOf(desk) + 1}`;
  const { text, is } = verdictOf(desk);
  const lacks = desk.fits ? lackTexts(desk) : [];
  const pairs: readonly (readonly [string, string])[] = desk.fits
    ? [
        ...figuresOf(desk),
        [
          'How sure',
          [
            sureText(desk),
            evidenceWords(desk.evidence),
            ...(desk.notProved === null ? [] : ['not proved']),
          ].join(', '),
        ],
        ...(lacks.length === 0 ? [] : [['Missing', lacks.join('; ')] as const]),
      ]
    : [['Why', unfitText(desk)]];
  const typed = told.recipeCommand(desk);
  const body: readonly Child[] = [
    element('h3', {}, named(titleOf(desk, told))),
    element('p', { class: 'quiet small' }, named(desk.title)),
    element('p', {}, element('strong', { class: is === 'plain' ? 'tag' : `tag ${is}` }, text)),
    figuresList(pairs),
    ...(desk.fits && typed !== null ? [command(typed)] : []),
  ];
  return element('li', { id }, body);
};

/** Desks side by side as one page. */
export const comparisonPage = (told: FoundComparison, { venue, date }: ShowOptions): string => {
  const { rig, compared } = told;
  const [title = '', ...about] = comparisonHead(rig, compared);
  const isMet = comparisonExitCode(compared) === exitCodes.done;
  const guardsNothing = compared.every((desk) => !desk.fits || desk.verdict === 'nothing-to-guard');
  return pageText({
    title: givenTexts([title, venue, date]).join(', '),
    id: 'compare',
    body: [
      pageHead({
        title,
        under: about,
        when: [venue, date],
        verdict: {
          text: comparisonResult(compared),
          is: guardsNothing ? 'plain' : isMet ? 'good' : 'bad',
        },
      }),
      element(
        'main',
        {},
        element(
          'div',
          { class: 'split' },
          section(
            'merit',
            'At a glance, the best first',
            element('figure', { class: 'tall' }, figureOf(told)),
          ),
          section('reading', 'How to read it', paragraphs(comparisonNotes(compared))),
        ),
        section(
          'desks',
          'Desk by desk',
          element(
            'ol',
            { class: 'cards' },
            compared.map((desk) => card(desk, told)),
          ),
        ),
        section('cautions', 'Cautions', paragraphs(cautions)),
      ),
    ],
  });
};

/** Desks side by side as a picture that stands alone. */
export const comparisonSvg = (told: FoundComparison): string => `${markup(figureOf(told))}\n`;
