import type { GuardFigures } from '../../guard/guard-figures.js';
import { columnLines, widthBeside } from '../../layout/columns.js';
import { knobNames } from '../../model/knob.js';
import type { PlacedFilter, RecipeMix } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { displayText } from './knob-text.js';
import { pageColumns } from './page.js';

/** A filter in a word, and its slot where another is called the same. */
const nameAmong = ({ type, slot }: PlacedFilter, filters: readonly PlacedFilter[]): string =>
  filters.filter((each) => each.type === type).length > 1 ? `${typeWords[type]} in ${slot}` : typeWords[type];

/** What becomes of one filter: the knobs that stand elsewhere, or that it is not there any more. */
const movesOf = (
  before: PlacedFilter,
  befores: readonly PlacedFilter[],
  afters: readonly PlacedFilter[],
): readonly string[] => {
  const after = afters.find(({ role }) => role === before.role);
  if (!after) return [`${nameAmong(before, befores)} left out`];
  if (after.type !== before.type) return [`${nameAmong(before, befores)} made a ${typeWords[after.type]}`];
  const moved = knobNames.flatMap((knob) => {
    const [from, to] = [before.steps[knob], after.steps[knob]];
    return from && to && from.index !== to.index
      ? [`${displayText(knob, from)} to ${displayText(knob, to)}`]
      : [];
  });
  return moved.length > 0 ? [`${nameAmong(after, afters)} ${moved.join(', ')}`] : [];
};

/** How some filters differ from others, knob by knob. */
const changesOf = (before: readonly PlacedFilter[], after: readonly PlacedFilter[]): readonly string[] => [
  ...before.flatMap((placed) => movesOf(placed, before, after)),
  ...after
    .filter(({ role }) => !before.some((each) => each.role === role))
    .map(({ type }) => `a ${typeWords[type]} added`),
];

const widths = [11, 8, 5, 5];

const row = (name: string, pilot: string, music: string, about: string): readonly string[] =>
  columnLines(
    ['', name, pilot.padStart(5), music.padStart(5), about],
    [...widths, widthBeside(widths, pageColumns)],
  );

const tenths = (valueDb: number): string => (Number(valueDb.toFixed(1)) + 0).toFixed(1);

const figuresRow = (
  name: string,
  { pilotAttenuationDb, keepLossDb }: GuardFigures,
  about: readonly string[],
): readonly string[] =>
  row(name, tenths(pilotAttenuationDb), tenths(Math.max(0, keepLossDb)), about.join('; '));

/** A limit that lets a loss be, as it is typed: to the hundredth up. */
const limitText = (lossDb: number): string => String(Math.ceil(Math.max(0, lossDb) * 100 - 1e-6) / 100);

/**
 * The choice beside what every knob at its own nearest step would give, and beside the setting a person may prefer: dB
 * taken out at the pilot and dB of music lost, each in the worst way the desk may build its filters. Nothing where
 * nothing was chosen.
 */
export const choiceLines = ({ filters, guard, nearest, alternative }: RecipeMix): readonly string[] => {
  if (!guard || !nearest) return [];
  const moved = changesOf(nearest.filters, filters);
  if (moved.length === 0 && !alternative) return [];
  return [
    ...row('dB', 'pilot', 'music', ''),
    ...figuresRow('by hand', nearest.worst, ['every knob at its own nearest step']),
    ...figuresRow('chosen', guard.worst, moved.length > 0 ? moved : ['the same']),
    ...(alternative
      ? figuresRow(alternative.kind, alternative.worst, [
          ...changesOf(filters, alternative.filters),
          ...(alternative.isHadByLimit
            ? [`to have it: --keep-loss ${limitText(alternative.worst.keepLossDb)}`]
            : []),
        ])
      : []),
  ];
};
