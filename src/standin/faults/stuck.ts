import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import type { Fault } from './fault.js';

/** Whether a text is like a pattern in which `*` stands for any run of characters. */
const isLike = (text: string, pattern: string): boolean => {
  const [head = '', ...others] = pattern.split('*');
  const tail = others.pop();
  if (tail === undefined) return text === head;
  if (!text.startsWith(head)) return false;
  let from = head.length;
  for (const part of others) {
    const at = text.indexOf(part, from);
    if (at < 0) return false;
    from = at + part.length;
  }
  return text.length - tail.length >= from && text.endsWith(tail);
};

/** Dials that do not turn, whoever turns them: they can be read, and read as before. */
export const stuck: Fault = {
  name: 'stuck',
  example: '/mix/3/filter/2/gain',
  summary: 'a value that does not take; * stands for anything in its address',
  place: 'desk',
  create: (setting, { addresses, isQuestion }) => {
    const held = new Set(addresses.filter((address) => isLike(address, setting)));
    if (held.size === 0) return fail(`this desk has no address ${quote(setting)}`);
    return ok((delivery) => {
      const { direction, message } = delivery;
      const isWrite = direction === 'in' && !isQuestion(message);
      return isWrite && held.has(message.address) ? [] : [delivery];
    });
  },
};
