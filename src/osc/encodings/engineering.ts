import { leastWhere } from '../../quantisers/grid.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { type Encoding, numberAs, numberIn, type Scale } from './encoding.js';

/** The step whose value is nearest to a number; an end of the scale for what lies beyond it. */
export const nearestOn = (scale: Scale, number: number): Result<number, string> => {
  const valueAt = (index: number): number => scale.at(index).value ?? Number.NaN;
  if (scale.measure === null) return fail('a number says nothing here');
  if (scale.measure === 'ratio' && number <= 0) return fail(`${number} is not above 0`);
  const upper = leastWhere(0, scale.count, (index) => valueAt(index) >= number);
  if (upper === 0) return ok(0);
  if (upper === scale.count) return ok(scale.count - 1);
  const [below, above] = [valueAt(upper - 1), valueAt(upper)];
  const isNearerBelow =
    scale.measure === 'ratio' ? number / below < above / number : number - below < above - number;
  return ok(isNearerBelow ? upper - 1 : upper);
};

/** The value itself: hertz, decibels, Q, octaves, decibels per octave. */
export const engineering: Encoding = {
  as: 'engineering',
  encode: ({ value, text }, type) =>
    value === null
      ? fail(`${quote(text)} is no number and cannot be sent as engineering: index, fraction and text can.`)
      : numberAs(type, value, 'nearest float'),
  decode: (argument, scale) => {
    const number = numberIn(argument);
    return number.ok ? nearestOn(scale, number.value) : number;
  },
};
