import type { ComparedDesk, ServedDesk } from '../../analysis/compare/compared-desk.js';
import { fittingWidth, sideBySide, widthBeside } from '../../layout/columns.js';
import { hang, wrap } from '../../layout/wrap.js';
import type { Rig } from '../../model/rig.js';
import { besideLimit } from '../words/beside-limit.js';
import { deskName } from '../words/load-desk.js';
import { comparisonHead, comparisonNotes, dialCommand } from './comparison-notes.js';
import {
  dialsText,
  evidenceDiffers,
  evidenceText,
  lackTexts,
  musicText,
  sureText,
  unfitText,
  verdictWords,
} from './desk-words.js';

/** A column of words narrower than this goes under its row instead. */
const leastWords = 24;

const mostName = 20;

const figuresOf = (desk: ServedDesk): readonly string[] => [
  desk.pilot
    ? besideLimit(desk.pilot.attenuationDb, desk.pilot.askedDb, 'at least').figure.replace(' dB', '')
    : '-',
  desk.keepLossDb === null ? '-' : musicText(desk.keepLossDb),
  dialsText(desk),
];

const wordsOf = (desk: ServedDesk, tellsEvidence: boolean): string =>
  [
    `${sureText(desk)}${tellsEvidence ? `, ${evidenceText(desk.evidence)}` : ''}`,
    ...(desk.notProved === null ? [] : ['not proved']),
    ...lackTexts(desk),
  ].join('; ');

interface Row {
  readonly name: string;
  readonly verdict: string;
  /** None for a desk on which the rig does not fit. */
  readonly figures: readonly string[];
  readonly words: string;
}

const rowsOf = (compared: readonly ComparedDesk[]): readonly Row[] => {
  const tellsEvidence = evidenceDiffers(compared.filter((desk) => desk.fits));
  return compared.map((desk) => {
    const name = deskName(desk, compared);
    return desk.fits
      ? {
          name,
          verdict: verdictWords[desk.verdict],
          figures: figuresOf(desk),
          words: wordsOf(desk, tellsEvidence),
        }
      : { name, verdict: verdictWords['does-not-fit'], figures: [], words: unfitText(desk) };
  });
};

const head: Row = {
  name: 'desk',
  verdict: '',
  figures: ['pilot', 'music', 'dials'],
  words: '',
};

const units: Row = { name: '', verdict: '', figures: ['dB', 'dB', ''], words: 'how sure; what is missing' };

/** A row where a window has no room for the columns: the figures are told below the name. */
const narrowLines = ({ name, verdict, figures, words }: Row, columns: number): readonly string[] => {
  if (verdict === '') return [];
  const [pilot, music, dials] = figures;
  const told = figures.length > 0 ? `pilot ${pilot} dB, music ${music} dB, dials ${dials}; ${words}` : words;
  return [...wrap(`${name} ${verdict}`, columns, '  '), ...hang('  ', told, columns)];
};

const tableLines = (compared: readonly ComparedDesk[], columns: number): readonly string[] => {
  const rows = [...(compared.some(({ fits }) => fits) ? [head, units] : []), ...rowsOf(compared)];
  const nameWidth = fittingWidth(
    rows.map(({ name }) => name),
    4,
    mostName,
  );
  const verdictWidth = fittingWidth(
    rows.map(({ verdict }) => verdict),
    8,
    12,
  );
  const figureWidths = head.figures.map((_, at) =>
    Math.max(...rows.map(({ figures }) => figures[at]?.length ?? 0)),
  );
  const widths = [nameWidth, verdictWidth, ...figureWidths];
  const besideFigures = widthBeside(widths, columns);
  if (widthBeside(widths.slice(1), columns) < nameWidth)
    return rows.flatMap((row) => narrowLines(row, columns));
  return rows.flatMap(({ name, verdict, figures, words }) => {
    const left = [wrap(name, nameWidth), [verdict]];
    if (figures.length === 0) {
      const room = widthBeside([nameWidth, verdictWidth], columns);
      return sideBySide([...left, wrap(words, room)], [nameWidth, verdictWidth, room]);
    }
    const cells = [...left, ...figures.map((figure, at) => [figure.padStart(figureWidths[at] ?? 0)])];
    return besideFigures >= leastWords
      ? sideBySide([...cells, wrap(words, besideFigures)], [...widths, besideFigures])
      : [
          ...sideBySide(cells, widths),
          ...(words === '' ? [] : wrap(words, columns - 2).map((line) => `  ${line}`)),
        ];
  });
};

/** A comparison for people: what is asked, a line a desk, and how to read it. */
export const comparisonLines = (
  rig: Rig,
  compared: readonly ComparedDesk[],
  columns: number,
): readonly string[] => {
  const paragraphs = [...comparisonHead(rig, compared), null, ...comparisonNotes(compared)];
  return paragraphs.flatMap((text) =>
    text === null ? ['', ...tableLines(compared, columns), ''] : wrap(text, columns, '', [dialCommand]),
  );
};
