import { knobNames } from '../../model/knob.js';
import type { Band, RecipeMix } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { columnLines, widthBeside } from '../layout/columns.js';
import { displayText } from './knob-text.js';
import { pageColumns } from './page.js';

/** What became of one of nearest's bands: the knobs that stand elsewhere, or that it is not there any more. */
const movesOf = (before: Band, bands: readonly Band[]): readonly string[] => {
  const after = bands.find(({ role }) => role === before.role);
  const word = typeWords[before.type];
  if (!after) return [`${word} left out`];
  if (after.type !== before.type) return [`${word} made a ${typeWords[after.type]}`];
  const moved = knobNames.flatMap((knob) => {
    const [from, to] = [before.steps[knob], after.steps[knob]];
    return from && to && from.index !== to.index
      ? [`${displayText(knob, from)} to ${displayText(knob, to)}`]
      : [];
  });
  return moved.length > 0 ? [`${word} ${moved.join(', ')}`] : [];
};

const addedTo = (before: readonly Band[], bands: readonly Band[]): readonly string[] =>
  bands
    .filter(({ role }) => !before.some((each) => each.role === role))
    .map(({ type }) => `a ${typeWords[type]} added`);

const difference = (valueDb: number, more: string, less: string): string =>
  `${Math.abs(valueDb).toFixed(1)} dB ${valueDb < 0 ? less : more}`;

/** Differences smaller than this would be told as 0.0 dB. */
const toldDb = 0.05;

/** What moved away from the nearest steps, what that bought and what it cost; nothing where nothing moved. */
export const nearestLines = ({ bands, guard, nearest }: RecipeMix): readonly string[] => {
  if (!guard || !nearest) return [];
  const moves = [...nearest.bands.flatMap((band) => movesOf(band, bands)), ...addedTo(nearest.bands, bands)];
  if (moves.length === 0) return [];
  const pilotDb = guard.worst.pilotAttenuationDb - nearest.worst.pilotAttenuationDb;
  const musicDb = guard.worst.keepLossDb - nearest.worst.keepLossDb;
  const gains = [
    ...(Math.abs(pilotDb) >= toldDb ? [`${difference(pilotDb, 'more', 'less')} at the pilot`] : []),
    ...(Math.abs(musicDb) >= toldDb ? [`${difference(musicDb, 'more', 'less')} music lost`] : []),
  ];
  const widths = [11, 5];
  const rest = widthBeside(widths, pageColumns);
  return [
    ...columnLines(['', 'moved', moves.join('; ')], [...widths, rest]),
    ...columnLines(
      [
        '',
        'for',
        `${gains.length > 0 ? gains.join(', ') : 'the same figures, to a tenth of a dB'} than with the nearest steps (${nearest.worst.pilotAttenuationDb.toFixed(1)} dB down, ${Math.max(0, nearest.worst.keepLossDb).toFixed(1)} dB lost)`,
      ],
      [...widths, rest],
    ),
  ];
};
