import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { between, type Fault } from './fault.js';

const longestMs = 60_000;

/** Everything is late, either way. */
export const delay: Fault = {
  name: 'delay',
  example: '20..80',
  summary: 'every message and answer is late by so many milliseconds',
  place: 'network',
  create: (setting, { random }) => {
    const found = /^(\d{1,5})(?:\.\.(\d{1,5}))?$/.exec(setting);
    const least = Number(found?.[1] ?? Number.NaN);
    const most = Number(found?.[2] ?? least);
    if (!(least <= most && most <= longestMs)) {
      const allowed = `milliseconds from 0 to ${longestMs} are allowed, the lower first`;
      return fail(`${quote(setting)} is no delay; ${allowed}`);
    }
    return ok((delivery) => [{ ...delivery, delayMs: delivery.delayMs + between(least, most, random) }]);
  },
};
