import { roundingDb } from '../../guard/guard-figures.js';
import type { Guard } from '../../model/recipe.js';
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
    tell: (figure) => `${figure} down at ${formatFrequency(pilotHz)} +-${windowHz} Hz`,
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
