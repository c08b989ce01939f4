import type { DbRange } from '../../guard/pilot-to-programme.js';
import { columnLines, widthBeside } from '../../layout/columns.js';
import { protectiveRoles } from '../../model/intent.js';
import type { Guard, MissingFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { isMissed, type JudgedFigure, judgedFigures, shownBeside } from './judged.js';

/** A figure and the limit it is held to, in a sentence. */
export const figureText = (judged: JudgedFigure): string => {
  const { figure, limit } = shownBeside(judged);
  return `${judged.tell(`${figure} dB`)}; ${judged.tellLimit?.(`${limit} dB`) ?? `${judged.mustBe} ${limit} dB asked`}`;
};

/** What is missed and by how much: `pilot by 0.6 dB`. */
export const missText = (judged: JudgedFigure): string =>
  `${judged.what} by ${shownBeside(judged).difference} dB`;

const signed = (valueDb: number): string => {
  const shown = (Number(valueDb.toFixed(1)) + 0).toFixed(1);
  return Number(shown) > 0 ? `+${shown}` : shown;
};

/** `-4.1 to +10.9 dB`; one figure where both ends show the same. */
const rangeText = ({ leastDb, mostDb }: DbRange): string =>
  `${[...new Set([signed(leastDb), signed(mostDb)])].join(' to ')} dB`;

/** How far the pilot stands above the programme in its window, and how far it stood before the filters. */
export const overProgrammeText = ({
  worst,
  unfilteredPilotToProgrammeDb: before,
  overDeviatingLineUpsDbfs: tooLoud,
}: Guard): string => {
  const { pilotToProgrammeDb: now } = worst;
  const told = now ? `${rangeText(now)} over pink noise` : 'nothing of pink noise falls into its window';
  return [
    told,
    ...(before ? [`was ${rangeText(before)}`] : []),
    ...(tooLoud.length > 0 ? [`lined up at ${tooLoud.join(', ')} dBFS it over-deviates without them`] : []),
  ].join('; ');
};

/** What the figures are the worst of. */
export const originText = (ways: number): string =>
  ways === 1
    ? 'in the one way of building filters that the target names'
    : `in the worst of ${ways} ways this desk may build filters`;

/** A filter asked for that is not there: `NO LOW CUT`. */
export const missingText = ({ role, type }: MissingFilter): string => {
  const isProtective = protectiveRoles.some((each) => each === role);
  return `NO ${isProtective ? role.replace('-', ' ').toUpperCase() : `${typeWords[type].toUpperCase()}, ${role}`}`;
};

export const guardWords = {
  met: 'GUARD MET',
  'falls-short': 'FALLS SHORT',
} as const satisfies Record<Guard['verdict'], string>;

/** Verdicts, and figures by name. */
const verdictColumns = 11;
const figureColumns = 5;
/** Figures stand under the reason of the verdict, or a little in where room is short. */
const roomyColumns = 60;
const shortIndent = 0;

/**
 * The verdict and its reason, and under it each figure with the limit it was judged by. What the pilot comes to
 * over a programme has no limit; it stands under the pilot.
 */
export const guardLines = (
  guard: Guard,
  missing: readonly MissingFilter[],
  columns: number,
): readonly string[] => {
  const figures = judgedFigures(guard);
  const missed = figures.filter(isMissed).map(missText);
  const without = missing.map(missingText);
  const told = [...without, ...missed, originText(guard.byRealisation.length)];
  const [pilot = [], ...others] = figures.map((judged) => [judged.what, figureText(judged)]);
  const rows = [pilot, ['', overProgrammeText(guard)], ...others];
  const widths = [columns < roomyColumns ? shortIndent : verdictColumns, figureColumns];
  const figureWidths = [...widths, widthBeside(widths, columns)];
  return [
    ...columnLines(
      [guardWords[guard.verdict], told.join(', ')],
      [verdictColumns, widthBeside([verdictColumns], columns)],
    ),
    ...rows.flatMap((cells) => columnLines(['', ...cells], figureWidths)),
  ];
};
