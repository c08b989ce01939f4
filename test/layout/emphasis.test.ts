import { describe, expect, it } from 'vitest';
import { emphasised } from '../../src/layout/emphasis.js';

const bracketed = (text: string, verdict: string): string => `<${verdict === 'met' ? '+' : '-'}${text}>`;
const words = { met: ['GUARD MET'], short: ['FALLS SHORT', 'NO LOW CUT', 'NO BELL (a+b)'] };

describe('emphasis', () => {
  it.each<[string, readonly string[], readonly string[]]>([
    ['of one that is met', ['GUARD MET  pilot'], ['<+GUARD MET>  pilot']],
    ['of one that falls short', ['1 FALLS SHORT;'], ['1 <-FALLS SHORT>;']],
    ['of several in a line', ['FALLS SHORT, NO LOW CUT'], ['<-FALLS SHORT>, <-NO LOW CUT>']],
    [
      'of one that goes on in the next line, without what it is set in by',
      ['7 GUARD', '  MET; 3'],
      ['7 <+GUARD>', '  <+MET>; 3'],
    ],
    ['of signs that a pattern would obey', ['NO BELL (a+b)'], ['<-NO BELL (a+b)>']],
    ['not of part of a word', ['NO LOW CUTTING, SAFEGUARD MET'], ['NO LOW CUTTING, SAFEGUARD MET']],
    ['not across an empty line', ['', 'pilot', ''], ['', 'pilot', '']],
    ['of nothing', [], []],
  ])('%s', (_, lines, told) => {
    expect(emphasised(lines, words, bracketed)).toEqual(told);
  });
});
