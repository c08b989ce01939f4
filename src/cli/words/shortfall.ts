import { wrap } from '../../layout/wrap.js';
import type { RecipeOutcome } from '../../live/write/report.js';
import type { Guard, MissingFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { printable, quote } from '../../units/quote.js';
import { besideLimit, downOrUp, holdsTo } from '../words/beside-limit.js';

/** Figures of a guard that may fall short, and the limits they are held to. */
export interface HeldFigures {
  readonly limits: Guard['limits'];
  readonly worst: Pick<Guard['worst'], 'pilotAttenuationDb' | 'keepLossDb' | 'riseDb'>;
}

/** In what a guard falls short, the pilot first; nothing where it holds. */
export const guardTexts = ({ limits, worst }: HeldFigures): readonly string[] => {
  const { pilotAttenuationAtLeastDb, keepLossAtMostDb, riseAtMostDb } = limits;
  const pilot = besideLimit(worst.pilotAttenuationDb, pilotAttenuationAtLeastDb, 'at least');
  const music = besideLimit(worst.keepLossDb, keepLossAtMostDb, 'at most');
  const rise = besideLimit(worst.riseDb, riseAtMostDb, 'at most');
  return [
    ...(holdsTo(worst.pilotAttenuationDb, pilotAttenuationAtLeastDb, 'at least')
      ? []
      : [`pilot ${downOrUp(worst.pilotAttenuationDb, pilot.figure)} of the ${pilot.limit} asked`]),
    ...(holdsTo(worst.keepLossDb, keepLossAtMostDb, 'at most')
      ? []
      : [`music loses ${music.figure}, at most ${music.limit} asked`]),
    ...(holdsTo(worst.riseDb, riseAtMostDb, 'at most')
      ? []
      : [`up to ${rise.figure} is added, at most ${rise.limit} asked`]),
  ];
};

const roleWords: Readonly<Record<string, string>> = {
  'low-cut': 'low cut',
  'pilot-cut': 'pilot cut',
  'high-cut': 'high cut',
};

const whyWords: Readonly<Record<MissingFilter['why'], string>> = {
  'no-place': 'no place for it',
  'left-out': 'better guarded without',
};

const missingText = ({ role, type, why }: MissingFilter): string =>
  `no ${roleWords[role] ?? `${typeWords[type]} ${quote(role)}`} (${whyWords[why]})`;

/** What of all that was asked for a mix is not there though its recipe stands; empty where all holds. */
const shortfallText = ({ guard, missing }: RecipeOutcome): string =>
  [...(guard ? guardTexts(guard) : []), ...missing.map(missingText)].join('; ');

/** The mixes that fall short of what was asked even when set, and in what; nothing where all holds. */
export const shortfallLines = (
  mixes: readonly (RecipeOutcome & { readonly name: string })[],
  columns: number,
): readonly string[] => {
  const namesOf = new Map<string, string[]>();
  for (const mix of mixes) {
    const text = shortfallText(mix);
    if (text !== '') namesOf.set(text, [...(namesOf.get(text) ?? []), printable(mix.name)]);
  }
  return [...namesOf].flatMap(([text, names]) =>
    wrap(`Even when set, ${names.join(', ')} fall${names.length === 1 ? 's' : ''} short: ${text}.`, columns),
  );
};

/** A recipe's slots are all that a push and a verification look at. */
export const otherSlotsLines = (columns: number): readonly string[] =>
  wrap(
    "Only the recipe's own slots were looked at. What stands in others counts for the pilot, too: bandwright inspect reads them all.",
    columns,
  );
