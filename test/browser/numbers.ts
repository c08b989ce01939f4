/** A number as it must be told: rounded to so many decimals, or to so many significant digits, or as it stands in a text. */
export type Told = string | { readonly value: number; readonly decimals?: number; readonly digits?: number };

const numberPattern = /(?:(?<![\d.\w)])[-+])?\d+(?:\.\d+)?/g;

/** The numbers of a text, each with its sign where it has one. */
export const numbersIn = (text: string): readonly string[] =>
  text.replaceAll('+-', ' ').replaceAll('±', ' ').match(numberPattern) ?? [];

/** Whether what is told is the number, rounded half a unit of its last digit at most. */
export const isRightlyTold = (shown: string, told: Told): boolean => {
  if (typeof told === 'string') return shown === told;
  const { value, decimals, digits } = told;
  const shownDecimals = shown.split('.')[1]?.length ?? 0;
  if (decimals !== undefined && shownDecimals < decimals) return false;
  if (digits !== undefined && Number(Number(shown).toPrecision(digits)) !== Number(shown)) return false;
  const unit =
    digits === undefined
      ? 10 ** -shownDecimals
      : 10 ** (Math.floor(Math.log10(Math.abs(value) || 1)) + 1 - digits);
  return Math.abs(Number(shown) - value) <= unit / 2 + 1e-9 * Math.max(1, Math.abs(value));
};

/** To a tenth or finer: figures that are judged by. */
export const figure = (value: number): Told => ({ value, decimals: 1 });

/** Four significant digits, in kHz from 1 kHz. */
export const frequency = (hz: number): Told => ({ value: hz < 1000 ? hz : hz / 1000, digits: 4 });
