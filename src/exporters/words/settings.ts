import type { FilterType } from '../../filters/filter.js';
import { protectiveRoles } from '../../model/intent.js';
import type { Knob } from '../../model/knob.js';
import type { KnobPosition, PlacedFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { fewestDecimals } from '../../units/decibels.js';
import { formatCents, formatExact } from '../../units/format.js';
import { db } from '../../units/quantity.js';

/** What the desk calls its filter types, where it says. */
export type TypeLabels = Readonly<Partial<Record<FilterType, string>>>;

const isProtective = (role: string): boolean => protectiveRoles.some((protective) => protective === role);

/** The filter in words: with the desk's own label where that is another, and a role of the user's own. */
export const filterText = ({ type, asked, role }: PlacedFilter, labels: TypeLabels): string => {
  const word = typeWords[type];
  const label = labels[type];
  const named = label === undefined || label.toLowerCase() === word ? word : `${word} (${label})`;
  const standsIn = type === asked.type ? '' : ` for ${typeWords[asked.type]}`;
  // A further cut beside the one asked for goes by its role and a number.
  if (role !== asked.role) return `further ${named}${standsIn}`;
  return `${named}${standsIn}${isProtective(role) ? '' : `, ${role}`}`;
};

/** More clicks than this nobody counts. */
const mostClicks = 999;

/** How to find a position by counting, up from the bottom stop or down from the top one. */
export const clicksText = ({ of, fromBottom, fromTop }: KnobPosition): string => {
  if (of === 1) return 'fixed';
  if (fromBottom === 0) return 'bottom stop';
  if (fromTop === 0) return 'top stop';
  if (Math.min(fromBottom, fromTop) > mostClicks) return '';
  return fromBottom <= fromTop ? `${fromBottom} up` : `${fromTop} down`;
};

/** What the desk shows; a bare number on a Q knob says so. */
export const displayText = (knob: Knob, { display }: KnobPosition): string =>
  knob === 'q' && /^[\d.]/.test(display) ? `Q ${display}` : display;

/** The last bits of a division or a logarithm are no error. */
export const isNothing = (error: number, scale: number): boolean => Math.abs(error) <= 1e-9 * scale;

/** Signed, to three significant digits. */
const signed = (value: number): string => {
  const rounded = Number(value.toPrecision(3));
  return `${rounded > 0 ? '+' : ''}${formatExact(rounded)}`;
};

const frequencyErrorText = ({ asked, error }: PlacedFilter): string => {
  if (isNothing(error.frequencyHz, asked.frequencyHz)) return '';
  const cents = Math.abs(error.frequencyCents) < 0.05 ? '<0.1 cent' : formatCents(error.frequencyCents);
  return `${signed(error.frequencyHz)} Hz ${cents}`;
};

/** As few decimals as tell the ratio from 1. */
export const ratioText = (ratio: number): string => {
  const decimals = fewestDecimals(2, (rounded) => rounded(ratio) !== 1);
  return decimals === null ? '' : `x ${ratio.toFixed(decimals)}`;
};

/** Errors of whatever sets the width: Q or bandwidth by ratio of Q, a slope by difference. */
const widthErrorText = ({ error }: PlacedFilter): string => {
  const { qRatio, slopeDbPerOctave } = error;
  return [
    ...(qRatio === undefined || isNothing(qRatio - 1, 1) ? [] : [`Q ${ratioText(qRatio)}`]),
    ...(slopeDbPerOctave === undefined || isNothing(slopeDbPerOctave, 1)
      ? []
      : [`${signed(slopeDbPerOctave)} dB/oct`]),
  ].join(' ');
};

const gainErrorText = ({ error: { gainDb = db(0) } }: PlacedFilter): string =>
  isNothing(gainDb, 1) ? '' : `${signed(gainDb)} dB`;

/** How far what is set lies from what was asked, under frequency, width and gain; empty where it does not. */
export const errorTexts = (placed: PlacedFilter): readonly [string, string, string] => [
  frequencyErrorText(placed),
  widthErrorText(placed),
  gainErrorText(placed),
];
