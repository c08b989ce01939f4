import type { Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import { type FrontierPlace, frontierFigure } from '../../drawing/frontier-figure.js';
import { type Element, element, markup } from '../../drawing/markup.js';
import { pageText } from '../../drawing/page.js';
import { heads, named, pageHead, paragraphs, section } from '../../drawing/page-parts.js';
import { capitalised } from '../../exporters/words/groups.js';
import { cautions } from '../../exporters/words/notes.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Intent } from '../../model/intent.js';
import type { Target } from '../../model/target.js';
import {
  axisWords,
  markWords,
  pointNumbers,
  settingsText,
  tradeoffHead,
  tradeoffNotes,
  withinText,
} from './tradeoff-words.js';

/** One desk's frontier, and what it was asked. */
export interface FoundTradeoff {
  readonly target: Target;
  readonly intents: readonly Intent[];
  readonly found: Tradeoff;
  readonly scope: GuardScope;
}

const placeOf = ({ keepLossDb, pilotAttenuationDb }: TradeoffPoint): FrontierPlace => ({
  lostDb: Math.max(0, keepLossDb),
  pilotDb: pilotAttenuationDb,
});

const askedText = ({ asked }: Tradeoff): string =>
  `${markWords.asked}: ${asked.pilotAttenuationDb.toFixed(1)} dB`;

const reachedText = ({ asked: { reached } }: Tradeoff): string =>
  reached ? `least loss that reaches it: ${pointNumbers(reached).lost} dB` : 'nothing reaches that';

const figureOf = ({ target, found, scope }: FoundTradeoff): Element => {
  const { frontier, nearest, asked } = found;
  return frontierFigure({
    title: `${target.id}: attenuation at the pilot against music lost`,
    description: tradeoffNotes(found, scope).join(' '),
    axisWords: { lost: axisWords.x, pilot: axisWords.y },
    points: frontier.map(placeOf),
    nearest: placeOf(nearest),
    askedDb: asked.pilotAttenuationDb,
    reached: asked.reached && placeOf(asked.reached),
    words: {
      ...markWords,
      asked: askedText(found),
      reached: reachedText(found),
    },
  });
};

/** A setting in two rows, its figures and how it is had: side by side a phone has no room for both. */
const pointRows = (within: string, point: TradeoffPoint): readonly Element[] => {
  const { lost, pilot } = pointNumbers(point);
  return [
    element(
      'tr',
      {},
      element('th', { scope: 'row' }, within),
      element('td', { class: 'number' }, lost),
      element('td', { class: 'number' }, pilot),
    ),
    element('tr', { class: 'about' }, element('td', { colspan: 3 }, named(capitalised(settingsText(point))))),
  ];
};

const tableOf = ({ frontier, nearest, asked }: Tradeoff): Element =>
  element(
    'table',
    {},
    heads('within, dB', 'lost, dB', 'pilot, dB'),
    element(
      'tbody',
      {},
      frontier.flatMap((point) => pointRows(withinText(point), point)),
      pointRows(capitalised(markWords.nearest), nearest),
      ...(asked.reached ? pointRows('Least loss that reaches what is asked', asked.reached) : []),
    ),
  );

/** A desk's frontier as one page. */
export const tradeoffPage = (told: FoundTradeoff): string => {
  const { target, intents, found, scope } = told;
  const title = `${target.id}: ${target.title}`;
  return pageText({
    title: `${title}, attenuation at the pilot against music lost`,
    id: 'tradeoff',
    body: [
      pageHead({
        title,
        under: ['Attenuation at the pilot against music lost'],
        verdict: {
          text: capitalised(`${askedText(found)}; ${reachedText(found)}.`),
          is: found.asked.reached ? 'good' : 'bad',
        },
      }),
      element(
        'main',
        {},
        element(
          'div',
          { class: 'split' },
          section(
            'frontier',
            'What more music lost buys',
            element('figure', {}, figureOf(told)),
            paragraphs(tradeoffNotes(found, scope)),
            paragraphs([tradeoffHead(target, intents, found, scope)], 'quiet small'),
          ),
          section('steps', 'The steps that do it', tableOf(found)),
        ),
        section('cautions', 'Cautions', paragraphs(cautions)),
      ),
    ],
  });
};

/** A desk's frontier as a picture that stands alone. */
export const tradeoffSvg = (told: FoundTradeoff): string => `${markup(figureOf(told))}\n`;
