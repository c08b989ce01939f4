import { displayWidth } from '../../layout/display-width.js';
import { hang, wrap } from '../../layout/wrap.js';
import type { Guard, RecipeMix } from '../../model/recipe.js';
import { changesOf, figuresOf } from './choice-lines.js';
import { capitalised } from './groups.js';
import { guardWords, missingText } from './guard-lines.js';
import { isMissed, type Judged, judgedFigures, shownBeside } from './judged.js';
import type { Page } from './page.js';
import { withVerdicts } from './summary.js';

/** A figure beside its limit, in as few words as leave no doubt which way it must lie. */
const figureText = (judged: Judged): string => {
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
  return `; by hand ${pilot} and ${music}`;
};

const roomyColumns = 60;

/** How the mixes of a group stand, in a line where there is room; beside it what dialling by hand would give, likewise. */
export const shortVerdictLines = (mix: RecipeMix, { columns, emphasise }: Page): readonly string[] => {
  const missing = mix.missing.map(missingText);
  if (!mix.guard) {
    const told = [...missing, ...(mix.treatment === 'as-asked' ? [mix.reason] : [])].join('; ');
    return told === '' ? [] : withVerdicts(wrap(capitalised(told), columns, '  '), mix.missing, emphasise);
  }
  const head = `${guardWords[mix.guard.verdict]}  `;
  const told = [...missing, ...figureTexts(mix.guard)].join('; ');
  const more = `${told}${byHandText(mix)}`;
  const fits = displayWidth(head) + displayWidth(more) <= columns;
  const text = fits ? more : told;
  const lines = columns < roomyColumns ? wrap(`${head}${text}`, columns, '  ') : hang(head, text, columns);
  return withVerdicts(lines, mix.missing, emphasise);
};
