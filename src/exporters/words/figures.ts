import { roundingDb } from '../../guard/guard-figures.js';
import type { DbRange } from '../../guard/pilot-to-programme.js';
import { protectiveRoles } from '../../model/intent.js';
import type { Guard, MissingFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { fewestDecimals } from '../../units/decibels.js';
import { formatFrequency } from '../../units/format.js';

/** One figure, the limit it is held to, and which way it must lie. */
export interface JudgedFigure {
  readonly what: 'pilot' | 'music' | 'rise';
  readonly figureDb: number;
  readonly limitDb: number;
  readonly mustBe: 'at least' | 'at most';
  /** The figure in a sentence. */
  tell(figure: string): string;
  /** The limit in a sentence, where it is another than what was asked. */
  tellLimit?(limit: string): string;
}

const holds = (figure: number, limit: number, { mustBe }: JudgedFigure): boolean =>
  mustBe === 'at least' ? figure >= limit - roundingDb : figure <= limit + roundingDb;

/** As few decimals, from one up, as keep figure and limit in the relation they are in. */
const decimalsFor = (judged: JudgedFigure): number => {
  const truth = holds(judged.figureDb, judged.limitDb, judged);
  const isTold = (rounded: (value: number) => number) =>
    holds(rounded(judged.figureDb), rounded(judged.limitDb), judged) === truth;
  return fewestDecimals(1, isTold) ?? 9;
};

const fixed = (value: number, decimals: number): string =>
  (Number(value.toFixed(decimals)) + 0).toFixed(decimals);

/** Figure, limit and what lies between them, in dB, in decimals that tell a miss from a hit. */
export const shownBeside = (
  judged: JudgedFigure,
): { readonly figure: string; readonly limit: string; readonly difference: string } => {
  const decimals = decimalsFor(judged);
  const { figureDb, limitDb } = judged;
  return {
    figure: fixed(figureDb, decimals),
    limit: fixed(limitDb, decimals),
    difference: fixed(Math.abs(figureDb - limitDb), decimals),
  };
};

export const isMissed = (judged: JudgedFigure): boolean => !holds(judged.figureDb, judged.limitDb, judged);

/** What the filters as asked would cost by themselves, and what may be lost at most to reach the attenuation asked. */
const asAskedText =
  (asAskedDb: number) =>
  (limit: string): string =>
    `${asAskedDb.toFixed(1)} dB as asked, ${limit} at most`;

export const judgedFigures = ({
  worst,
  limits,
  pilotHz,
  windowHz,
  keepLowHz,
  keepHighHz,
}: Guard): readonly JudgedFigure[] => [
  {
    what: 'pilot',
    figureDb: worst.pilotAttenuationDb,
    limitDb: limits.pilotAttenuationAtLeastDb,
    mustBe: 'at least',
    tell: (figure) =>
      `${figure.startsWith('-') ? `${figure.slice(1)} up` : `${figure} down`} at ${formatFrequency(pilotHz)} +-${windowHz} Hz`,
  },
  {
    what: 'music',
    figureDb: worst.keepLossDb,
    limitDb: limits.keepLossAtMostDb,
    mustBe: 'at most',
    tell: (figure) =>
      `${worst.keepLossDb <= roundingDb ? 'nothing' : figure} lost, ${formatFrequency(keepLowHz)} to ${formatFrequency(keepHighHz)}`,
    ...(limits.keepLossAsAskedDb === null ? {} : { tellLimit: asAskedText(limits.keepLossAsAskedDb) }),
  },
  {
    what: 'rise',
    figureDb: worst.riseDb,
    limitDb: limits.riseAtMostDb,
    mustBe: 'at most',
    tell: (figure) => (worst.riseDb <= roundingDb ? 'none' : figure),
  },
];

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
