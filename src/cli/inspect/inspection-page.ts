import { gallery, headingColumns } from '../../drawing/gallery.js';
import { type Child, type Element, element, markup } from '../../drawing/markup.js';
import { type MeritRow, meritFigure } from '../../drawing/merit-figure.js';
import { pageText } from '../../drawing/page.js';
import {
  givenTexts,
  heads,
  named,
  pageHead,
  paragraphs,
  section,
  typeset,
  unbroken,
} from '../../drawing/page-parts.js';
import { capitalised } from '../../exporters/words/groups.js';
import { cautions, firstCaution } from '../../exporters/words/notes.js';
import { wrap } from '../../layout/wrap.js';
import type { InspectedMix, InspectedOutput, PilotState } from '../../live/inspect/inspection.js';
import type { InspectReport } from '../../node/desk/inspect.js';
import { inWords } from '../../units/suggest.js';
import type { ShowOptions } from '../words/page-form.js';
import { slotPhrase } from '../words/slot-phrase.js';
import {
  findingTexts,
  inspectionResult,
  isToSet,
  leftText,
  pilotText,
  standingText,
  stateWords,
} from './inspection-lines.js';
import { outputsOf, type StandingRig, standingFigure, unknownIn } from './standing-figure.js';

const marks: Readonly<Record<PilotState, MeritRow['verdict']['is']>> = {
  safe: 'good',
  'at-risk': 'bad',
  'not-known': 'plain',
};

const mixTitle = ({ outputs, name }: InspectedMix): string => `${outputs.join('/')} ${name}`;

/** What is taken at the pilot by the output that takes least; null where that is not known of each. */
const takenDb = ({ read }: InspectedMix): number | null => {
  const figures = read.flatMap(({ worst }) => (worst ? [worst.pilotAttenuationDb] : []));
  return figures.length < read.length || figures.length === 0 ? null : Math.min(...figures);
};

const rowOf = (mix: InspectedMix): MeritRow => {
  const taken = takenDb(mix);
  return {
    name: mixTitle(mix),
    verdict: { text: stateWords[mix.state], is: marks[mix.state] },
    pilot: taken === null ? null : { takenDb: taken, askedDb: mix.scope.pilotAttenuationAtLeastDb },
    figures: pilotText(mix),
  };
};

const glanceFigure = ({ title, mixes }: InspectReport): Element =>
  meritFigure({
    title: `${title}: what is taken at the pilot`,
    description: mixes
      .map((mix) => `${mixTitle(mix)}: ${stateWords[mix.state]}, ${pilotText(mix)}.`)
      .join(' '),
    rows: mixes.map(rowOf),
    words: { taken: 'taken at the pilot', asked: 'asked there' },
  });

const slotsTable = (mix: InspectedMix, read: InspectedOutput): Element =>
  element(
    'table',
    { class: 'slots' },
    heads('slot', `${outputsOf(mix, read)}, as it stands`),
    element(
      'tbody',
      {},
      read.slots.map(({ slot, view }) =>
        element(
          'tr',
          {},
          element('th', { scope: 'row' }, named(slot)),
          element('td', {}, named(unbroken(slotPhrase(view)))),
        ),
      ),
    ),
  );

const figureOrWhy = (mix: InspectedMix, read: InspectedOutput, inspected: StandingRig): Element => {
  const figure = standingFigure(mix, read, inspected);
  if (figure) return element('figure', {}, figure);
  const slots = unknownIn(read);
  const what = slots.length > 0 ? `slot${slots.length === 1 ? '' : 's'} ${inWords(slots, 'and')} ` : '';
  return element(
    'p',
    { class: 'quiet' },
    named(`No curves for ${outputsOf(mix, read)}: what stands in ${what}is not known.`),
  );
};

const mixSection = (mix: InspectedMix, index: number, inspected: StandingRig): Element => {
  const is = marks[mix.state];
  const found = findingTexts(mix, inspected.desk.target);
  return section(
    `mix-${index + 1}`,
    named(mixTitle(mix)),
    element(
      'p',
      {},
      element('strong', { class: is === 'plain' ? 'tag' : `tag ${is}` }, stateWords[mix.state]),
      ` ${unbroken(pilotText(mix))}`,
    ),
    element(
      'div',
      { class: 'split' },
      element(
        'div',
        {},
        ...(found.length === 0
          ? []
          : [
              element(
                'ul',
                {},
                found.map((text) => element('li', {}, named(unbroken(typeset(capitalised(text)))))),
              ),
            ]),
        mix.read.map((read) => slotsTable(mix, read)),
      ),
      element(
        'div',
        {},
        mix.read.map((read) => figureOrWhy(mix, read, inspected)),
      ),
    ),
  );
};

/** A list under a heading of its own, where there is anything. */
const told = (id: string, title: string, texts: readonly string[]): readonly Element[] =>
  texts.length === 0
    ? []
    : [
        section(
          id,
          title,
          element(
            'ul',
            {},
            texts.map((text) => element('li', {}, named(text))),
          ),
        ),
      ];

/** A rig as it stands, as one page: the result, every mix at a glance, then what was found and what to do, mix by mix. */
export const inspectionPage = (
  report: InspectReport,
  inspected: StandingRig,
  { venue, date }: ShowOptions,
): string => {
  const { title, mixes, leftAlone, assumptions } = report;
  const { target } = inspected.desk;
  const isSafe = mixes.every(({ state }) => state === 'safe');
  const glance: readonly Child[] =
    mixes.length === 0
      ? []
      : [section('glance', 'Every mix at a glance', element('figure', {}, glanceFigure(report)))];
  return pageText({
    title: givenTexts([`${title}, ${target.id}`, venue, date]).join(', '),
    id: 'inspect',
    body: [
      pageHead({
        title,
        under: [`${target.title} (${target.id})`, capitalised(standingText(report, target))],
        when: [venue, date],
        verdict: {
          text: inspectionResult(mixes),
          is: mixes.length === 0 ? 'plain' : isSafe ? 'good' : 'bad',
        },
        ...(mixes.some(isToSet) ? { caution: firstCaution } : {}),
      }),
      element(
        'main',
        {},
        glance,
        mixes.map((mix, index) => mixSection(mix, index, inspected)),
        told('leave-alone', 'Leave alone, not read', leftAlone.map(leftText)),
        told(
          'assumptions',
          'Taken for granted',
          assumptions.map(({ message }) => message),
        ),
        section('cautions', 'Cautions', paragraphs(cautions)),
      ),
    ],
  });
};

/** The same as one picture that stands alone: every mix at a glance, then the curves of each that is known. */
export const inspectionSvg = (report: InspectReport, inspected: StandingRig): string => {
  const { title, mixes } = report;
  const { target } = inspected.desk;
  const items = mixes.flatMap((mix) =>
    mix.read.flatMap((read) => {
      const figure = standingFigure(mix, read, inspected);
      const heading = wrap(`${mix.name}, ${outputsOf(mix, read)}: ${stateWords[mix.state]}`, headingColumns);
      return figure ? [{ heading, figure }] : [];
    }),
  );
  const heading = [...wrap(title, headingColumns), ...wrap(standingText(report, target), headingColumns)];
  const description = inspectionResult(mixes);
  const glance =
    mixes.length === 0 ? [] : [{ heading: wrap(description, headingColumns), figure: glanceFigure(report) }];
  return `${markup(gallery({ title, description }, heading, [...glance, ...items]))}\n`;
};
