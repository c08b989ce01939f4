import { ok } from '../../units/result.js';
import { type Fault, readWhole } from './fault.js';

/** A desk that falls silent half-way: after so many messages it takes and answers nothing more. */
export const silentAfter: Fault = {
  name: 'silent-after',
  example: '100',
  summary: 'after so many messages nothing is taken or answered any more',
  place: 'desk',
  create: (setting) => {
    const most = readWhole(setting, 'number of messages');
    if (!most.ok) return most;
    let taken = 0;
    return ok((delivery) => {
      if (delivery.direction === 'in') taken++;
      return taken > most.value ? [] : [delivery];
    });
  },
};
