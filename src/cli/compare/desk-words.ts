import type { MissingOnMixes, ServedDesk, UnfitDesk } from '../../analysis/compare/compared-desk.js';
import type { ProtectiveRole } from '../../model/intent.js';
import type { Evidence } from '../../model/target.js';
import { typeWords } from '../../model/words.js';
import { fewestDecimals } from '../../units/decibels.js';
import { quote } from '../../units/quote.js';
import { inWords } from '../../units/suggest.js';

export const verdictWords = {
  met: 'GUARD MET',
  'falls-short': 'FALLS SHORT',
  'nothing-to-guard': 'NO PILOT',
  'does-not-fit': 'DOES NOT FIT',
} as const;

export const dialsText = ({ dials: { knobs, settings, legsApart } }: ServedDesk): string =>
  [`${knobs}`, ...(settings > 1 ? [`in ${settings}`] : []), ...(legsApart ? ['x2'] : [])].join(' ');

const roleWords: Readonly<Record<ProtectiveRole, string>> = {
  'low-cut': 'low cut',
  'pilot-cut': 'pilot cut',
  'high-cut': 'high cut',
};

const filterWords = ({ role, type }: MissingOnMixes): string =>
  Object.hasOwn(roleWords, role) ? roleWords[role as ProtectiveRole] : `${typeWords[type]} ${quote(role)}`;

/** A filter that is missing: `no low cut`, `high cut left out on 4 of 17 mixes`. */
const missingText = (missing: MissingOnMixes, guardedMixCount: number): string => {
  const what = missing.why === 'left-out' ? `${filterWords(missing)} left out` : `no ${filterWords(missing)}`;
  return missing.mixCount < guardedMixCount
    ? `${what} on ${missing.mixCount} of ${guardedMixCount} mixes`
    : what;
};

export const missingTexts = ({ missing, guardedMixCount }: ServedDesk): readonly string[] =>
  missing.map((each) => missingText(each, guardedMixCount));

/** How many ways of building the figures are the worst of. */
export const sureText = ({ wayCount }: ServedDesk): string =>
  wayCount === 1 ? 'one way named' : `worst of ${wayCount}`;

/** Whether what the figures hang on has been tried on the real desk: its grid and its response. */
export const evidenceText = ({ grid, response }: Evidence): string => {
  if (grid === 'known-bad' || response === 'known-bad') return 'known bad';
  if (grid === 'tested' && response === 'tested') return 'tested';
  return grid === response ? 'untested' : `${grid === 'untested' ? 'grid' : 'response'} untested`;
};

/** Whether some of the desks have been tried and others not: then each line says it. */
export const evidenceDiffers = (served: readonly ServedDesk[]): boolean =>
  new Set(served.map(({ evidence }) => evidenceText(evidence))).size > 1;

/** As few decimals as do not show a miss as nothing. */
const missed = (valueDb: number): string => {
  const decimals = fewestDecimals(1, (rounded) => rounded(valueDb) > 0);
  return decimals === null ? valueDb.toExponential(1) : valueDb.toFixed(decimals);
};

/** What is missed that the least attenuation beside its limit does not show. */
const shortTexts = ({ short, pilot }: ServedDesk): readonly string[] => [
  ...(short.pilotDb > 0 && pilot !== null && pilot.attenuationDb >= pilot.askedDb
    ? [`${missed(short.pilotDb)} dB short on another mix`]
    : []),
  ...(short.lossDb > 0 ? [`${missed(short.lossDb)} dB of music lost too much`] : []),
  ...(short.riseDb > 0 ? [`${missed(short.riseDb)} dB of rise too much`] : []),
];

/** What a desk does without, or does otherwise. */
export const lackTexts = (desk: ServedDesk): readonly string[] => [
  ...shortTexts(desk),
  ...missingTexts(desk),
  ...(desk.otherwiseCount > 0 ? [`${desk.otherwiseCount} otherwise than asked`] : []),
];

/** The music lost, in dB. */
export const musicText = (keepLossDb: number): string => Math.max(0, keepLossDb).toFixed(1);

const toldOtherwise: ReadonlySet<string> = new Set(['output-unknown', 'slot-unknown']);

/** Why a rig does not fit on a desk. */
export const unfitText = ({ outputs, slotsUnknown, problems }: UnfitDesk): string =>
  [
    ...(outputs ? [`it has outputs 1 to ${outputs.count}, and the rig uses ${outputs.highestUsed}`] : []),
    ...(slotsUnknown.length > 0 ? [`it has no slot ${inWords(slotsUnknown.map(quote), 'or')}`] : []),
    ...new Set(problems.flatMap(({ code, message }) => (toldOtherwise.has(code) ? [] : [message]))),
  ].join('; ');
