import { displayWidth } from '../../layout/display-width.js';
import { hang, wrap } from '../../layout/wrap.js';
import type { Guard, RecipeMix } from '../../model/recipe.js';
import { changesOf, figuresOf } from '../words/choices.js';
import {
  guardWords,
  isMissed,
  type JudgedFigure,
  judgedFigures,
  missingText,
  shownBeside,
} from '../words/figures.js';
import { capitalised } from '../words/groups.js';
import type { Page } from './page.js';
import { withVerdicts } from './with-verdicts.js';

/** A figure beside its limit, in as few words as leave no doubt which way it must lie. */
const figureText = (judged: JudgedFigure): string => {
  const { figure, limit } = shownBeside(judged);
  const missed = isMissed(judged);
  if (judged.what === 'pilot') {
    const told = Number(figure) < 0 ? `${figure.slice(1)} dB up` : `${figure} dB down`;
    return missed ? `pilot ${told} of ${limit} asked` : `pilot ${told}, ${limit} asked`;
  }
  const told = judged.what === 'music' ? `music ${figure} dB lost` : `rise ${figure} dB`;
  return missed ? `${told} of at most ${limit}` : `${told}, ${limit} at most`;
};

const figureTexts = (guard: Guard): readonly string[] =>
  judgedFigures(guard)
    // What rises not at all, or within its limit, is no news.
    .filter((judged) => judged.what !== 'rise' || isMissed(judged))
    .map(figureText);

/** What every knob at its own nearest step would have given, where that is something else. */
const byHandText = ({ filters, nearest }: RecipeMix): string => {
  if (!nearest || changesOf(nearest.filters, filters).length === 0) return '';
  const { pilot, music } = figuresOf(nearest.worst);
  return `; by hand ${pilot} and ${music} dB`;
};

const roomyColumns = 60;
const narrowIndent = '  ';

/** How the mixes of a group stand, in a line where there is room; beside it what dialling by hand would give, likewise. */
export const shortVerdictLines = (mix: RecipeMix, { columns, emphasise }: Page): readonly string[] => {
  const missing = mix.missing.map(missingText);
  if (!mix.guard) {
    const without = missing.length > 0 ? wrap(missing.join('; '), columns, narrowIndent) : [];
    const why = mix.treatment === 'as-asked' ? wrap(capitalised(mix.reason), columns, narrowIndent) : [];
    return [...withVerdicts(without, mix.missing, emphasise), ...why];
  }
  const head = `${guardWords[mix.guard.verdict]}  `;
  const texts = [...missing, ...figureTexts(mix.guard)];
  const more = `${texts.join('; ')}${byHandText(mix)}`;
  const text = displayWidth(head) + displayWidth(more) <= columns ? more : texts.join('; ');
  const isRoomy = columns >= roomyColumns;
  const room = columns - (isRoomy ? head.length : narrowIndent.length);
  // A figure and its limit are read together; a role of the user's own may be wider than a line.
  const whole = texts.filter((each) => displayWidth(`${each};`) <= room);
  const lines = isRoomy
    ? hang(head, text, columns, whole)
    : wrap(`${head}${text}`, columns, narrowIndent, whole);
  return withVerdicts(lines, mix.missing, emphasise);
};
