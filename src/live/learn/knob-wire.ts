import type { Interval } from '../../learning/reading.js';
import { displayValue } from '../../model/display.js';
import type { Knob } from '../../model/knob.js';
import type { Display } from '../../model/target.js';
import { numberAs, numberIn } from '../../osc/encodings/encoding.js';
import { asFloat32, type OscArgument, oscString } from '../../osc/message.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { formatExact } from '../../units/format.js';
import type { ToldValue } from './ladder.js';

/** How the value of one knob travels, whatever its grid: nothing of the target's own grid is in it. */
export interface KnobWire {
  /** Null for a value that its type cannot carry. */
  argumentOf(value: number): OscArgument | null;
  /** Null for what is no value. */
  valueOf(argument: OscArgument): number | null;
  asSent(value: number): number;
  next(value: number, direction: 1 | -1): number;
  told(value: number): ToldValue;
  /** The same, where what is told may be the nearest whole number to what stands there; null of what is no whole number. */
  toldAsWhole(value: number): ToldValue | null;
}

const bits = new DataView(new ArrayBuffer(8));

/** The next 32-bit or 64-bit float (IEEE 754: the bits of a magnitude, read as a whole number, rise with it). */
const nextFloat = (value: number, direction: 1 | -1, width: 32 | 64): number => {
  if (value === 0) return direction * (width === 32 ? 2 ** -126 : Number.MIN_VALUE);
  const grows = value > 0 === (direction === 1) ? 1 : -1;
  if (width === 32) {
    bits.setFloat32(0, value);
    bits.setInt32(0, bits.getInt32(0) + grows);
    return bits.getFloat32(0);
  }
  bits.setFloat64(0, value);
  bits.setBigInt64(0, bits.getBigInt64(0) + BigInt(grows));
  return bits.getFloat64(0);
};

/** Near 0 a float tells more digits than any desk's arithmetic has. */
const leastSlack = 1e-9;

/**
 * Where a value may lie that is told as a float: anywhere that is told as the same 32-bit one; of a 64-bit one what a desk's
 * own arithmetic may add, some of its last digits.
 */
const aroundFloat = (value: number, width: 32 | 64): Interval => {
  const size = Math.abs(value);
  const half = width === 32 ? (nextFloat(size, 1, 32) - size) / 2 : 1e-12 * size;
  const slack = Math.max(half, width === 32 ? leastSlack : 1e-12);
  return { least: value - slack, most: value + slack };
};

const numberWire = ({ encoding: { as, type } }: SlotParameter): KnobWire => {
  const isWhole = type === 'i' || type === 'h' || as === 'index';
  const asSent = (value: number): number =>
    isWhole ? Math.round(value) : type === 'f' ? asFloat32(value) : value;
  const next = (value: number, direction: 1 | -1): number =>
    isWhole ? Math.round(value) + direction : nextFloat(value, direction, type === 'f' ? 32 : 64);
  return {
    asSent,
    next,
    argumentOf: (value) => {
      const sent = numberAs(type, asSent(value), 'nearest float');
      return sent.ok ? sent.value : null;
    },
    valueOf: (argument) => {
      const number = numberIn(argument);
      return number.ok ? number.value : null;
    },
    told: (value) => {
      const interval = isWhole ? { least: value, most: value } : aroundFloat(value, type === 'f' ? 32 : 64);
      return { text: formatExact(value), ifRounded: interval, ifCut: interval };
    },
    toldAsWhole: (value) =>
      isWhole
        ? {
            text: formatExact(value),
            ifRounded: { least: value - 0.5, most: value + 0.5 },
            ifCut: value < 0 ? { least: value - 1, most: value } : { least: value, most: value + 1 },
          }
        : null,
  };
};

const shownNumber = /^([+-]?\d+(?:\.(\d+))?)\s*(k?)/i;

/** A value as a display shows it, and what one of its last digit is worth. */
const parseShown = (text: string): { readonly value: number; readonly unit: number } | null => {
  const found = shownNumber.exec(text.trim());
  if (!found) return null;
  const [, number = '', decimals = '', kilo = ''] = found;
  const scale = kilo === '' ? 1 : 1000;
  const unit = 10 ** -decimals.length * scale;
  // In whole units first: 0.1 and 1000 have no exact product of every decimal.
  return { value: Number((Number(number) * scale).toPrecision(12)) + 0, unit };
};

const textWire = (knob: Knob, display: Display): KnobWire => {
  const heard = new Map<number, string>();
  const shown = (value: number): string => displayValue(knob, value, display);
  const asSent = (value: number): number => parseShown(shown(value))?.value ?? value;
  return {
    asSent,
    next: (value, direction) => {
      const unit = parseShown(shown(value))?.unit ?? 1;
      const other = asSent(value + direction * unit);
      if (other !== value) return other;
      return asSent(value + direction * 2 * unit);
    },
    argumentOf: (value) => {
      const sent = oscString(shown(value));
      return sent.ok ? sent.value : null;
    },
    valueOf: (argument) => {
      if (argument.type !== 's') return null;
      const parsed = parseShown(argument.value);
      if (parsed) heard.set(parsed.value, argument.value.trim());
      return parsed?.value ?? null;
    },
    told: (value) => {
      const text = heard.get(value) ?? shown(value);
      const unit = parseShown(text)?.unit ?? 0;
      const size = Math.abs(value);
      const ifCut = value < 0 ? { least: -(size + unit), most: value } : { least: value, most: value + unit };
      return { text, ifRounded: { least: value - unit / 2, most: value + unit / 2 }, ifCut };
    },
    toldAsWhole: () => null,
  };
};

/** How a knob's values travel through one parameter. */
export const knobWire = (knob: Knob, parameter: SlotParameter, display: Display): KnobWire =>
  parameter.encoding.as === 'text' ? textWire(knob, display) : numberWire(parameter);
