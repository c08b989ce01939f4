import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { oscString } from '../message.js';
import type { Encoding, Scale } from './encoding.js';
import { nearestOn } from './encoding.js';

const shown = /^([+-]?\d+(?:\.\d+)?)\s*(k?)/;

/** Where a text that shows a number can only stand: the step nearest to that number, or one beside it. */
const stepsNear = (text: string, scale: Scale): readonly number[] => {
  const found = shown.exec(text);
  if (!found) return [];
  const number = Number(found[1]) * (found[2] === 'k' ? 1000 : 1);
  const nearest = nearestOn(scale, number);
  if (!nearest.ok) return [];
  return [nearest.value, nearest.value - 1, nearest.value + 1].filter(
    (index) => index >= 0 && index < scale.count,
  );
};

/** What the desk shows. Where neighbouring steps look alike, the nearest of them is taken. */
export const textEncoding: Encoding = {
  as: 'text',
  encode: (setting, type) =>
    type === 's'
      ? oscString(setting.text)
      : fail(`The text ${quote(setting.text)} cannot be sent as ${type}: as s it can.`),
  decode: (argument, scale) => {
    const said = argument.type === 's' ? argument.value.trim() : '';
    const candidates =
      scale.measure === null
        ? Array.from({ length: scale.count }, (_, index) => index)
        : stepsNear(said, scale);
    const index = candidates.find((each) => scale.at(each).text === said);
    return index === undefined ? fail(`${quote(said)} is nothing that the desk shows there`) : ok(index);
  },
};
