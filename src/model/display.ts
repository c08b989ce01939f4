import type { Quantiser } from '../quantisers/quantiser.js';
import type { Step } from '../units/quantity.js';
import type { Knob } from './knob.js';
import type { KnobPosition } from './recipe.js';
import type { Display, NumberDisplay } from './target.js';

const unitWords: Readonly<Record<Knob, string>> = {
  frequency: ' Hz',
  q: '',
  bandwidth: ' oct',
  gain: ' dB',
  slope: ' dB/oct',
};

/** What is shown where a target does not say: enough digits to tell most grids' steps apart. */
const usualDisplay: Readonly<Record<Knob, NumberDisplay>> = {
  frequency: { significantDigits: 5 },
  q: { significantDigits: 3 },
  bandwidth: { significantDigits: 3 },
  gain: { decimals: 1 },
  slope: { decimals: 0 },
};

/** Decimals that leave `digits` significant ones; rounding first, since 9.9996 at four digits is 10.00. */
const toSignificantDigits = (value: number, digits: number): string => {
  const rounded = Number(value.toPrecision(digits));
  const integerDigits = rounded === 0 ? 1 : Math.floor(Math.log10(Math.abs(rounded))) + 1;
  return rounded.toFixed(Math.max(0, digits - integerDigits));
};

const showNumber = (value: number, style: NumberDisplay): string => {
  const text =
    style.decimals !== undefined
      ? value.toFixed(style.decimals)
      : toSignificantDigits(value, style.significantDigits ?? 4);
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
};

/** A knob's value as the desk would show it. A gain carries its sign either way. */
export const displayValue = (knob: Knob, value: number, display: Display): string => {
  const style = display[knob] ?? usualDisplay[knob];
  if (knob === 'frequency' && style.kiloFromHz !== undefined && value >= style.kiloFromHz) {
    return `${showNumber(value / 1000, style)} kHz`;
  }
  const sign = knob === 'gain' && value > 0 ? '+' : '';
  return `${sign}${showNumber(value, style)}${unitWords[knob]}`;
};

/** Where a knob stands at a step of its grid. */
export const knobPosition = (knob: Knob, grid: Quantiser, step: Step, display: Display): KnobPosition => ({
  index: step,
  of: grid.count,
  display: displayValue(knob, grid.valueAt(step), display),
  fromBottom: step,
  fromTop: grid.count - 1 - step,
});
