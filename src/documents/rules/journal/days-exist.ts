import type { Journal } from '../../../model/journal.js';
import { type Problem, problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

/** How many days a month of the Gregorian calendar has. */
const daysIn = (year: number, month: number): number => {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
};

const dayFault = (instant: string, path: string): readonly Problem[] => {
  const [year = 0, month = 0, day = 0] = instant.slice(0, 10).split('-').map(Number);
  const last = daysIn(year, month);
  return day <= last
    ? []
    : [problem(daysExist.name, path, `${quote(instant)} is no day: that month has ${last}. Correct it.`)];
};

/** The times are those of days that exist. */
export const daysExist: Rule<Journal> = {
  name: 'days-exist',
  check: ({ startedAt, outcome }) => [
    ...dayFault(startedAt, 'startedAt'),
    ...(outcome ? dayFault(outcome.endedAt, 'outcome.endedAt') : []),
  ],
};
