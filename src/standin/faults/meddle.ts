import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { type Fault, readWhole } from './fault.js';

/** Someone at the desk turns a dial while it is being written to. */
export const meddle: Fault = {
  name: 'meddle',
  example: '/mix/3/filter/2/gain@20',
  summary: 'someone else turns this dial elsewhere, right after so many writes',
  place: 'desk',
  create: (setting, { makeMeddleMessage, isQuestion }) => {
    const [address = '', count = ''] = setting.split('@');
    const after = readWhole(count, 'number of writes after the @');
    if (!after.ok) return after;
    if (after.value === 0) return fail('0 writes come before everything; 1 or more are allowed');
    if (makeMeddleMessage(address) === null)
      return fail(`this desk has nothing to turn at ${quote(address)}`);
    let writes = 0;
    return ok((delivery) => {
      const isWrite = delivery.direction === 'in' && !isQuestion(delivery.message);
      if (!isWrite || ++writes !== after.value) return [delivery];
      const message = makeMeddleMessage(address, delivery.message);
      return message === null ? [delivery] : [delivery, { ...delivery, message, by: 'someone-else' }];
    });
  },
};
