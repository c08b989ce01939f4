import { describe, expect, it } from 'vitest';
import { deskPairs, pairFault, pairsText } from '../../src/model/pairs.js';
import type { Target } from '../../src/model/target.js';

type Outputs = Target['outputs'];

const sharing = (count: number, pairs?: Outputs['pairs']): Outputs => ({
  count,
  stereo: 'legs-share',
  ...(pairs === undefined ? {} : { pairs }),
});

// What each form means is a requirement of ours: odd with the next even one unless told otherwise.
describe('the pairs of a desk', () => {
  it.each<[string, Outputs, ReturnType<typeof deskPairs>, string]>([
    [
      'nothing told',
      sharing(4),
      [
        [1, 2],
        [3, 4],
      ],
      '1/2 and 3/4',
    ],
    [
      'odd with even',
      sharing(6, 'odd-even'),
      [
        [1, 2],
        [3, 4],
        [5, 6],
      ],
      '1/2, 3/4 and so on to 5/6',
    ],
    [
      'one output too many',
      sharing(5),
      [
        [1, 2],
        [3, 4],
      ],
      '1/2 and 3/4',
    ],
    ['a single output', sharing(1), [], 'none'],
    ['any', sharing(8, 'any'), 'any', 'any two outputs'],
    [
      'a list',
      sharing(8, ['8/1', '2/5', '3/4']),
      [
        [8, 1],
        [2, 5],
        [3, 4],
      ],
      '8/1, 2/5, 3/4',
    ],
    ['a list of one', sharing(8, ['7/8']), [[7, 8]], '7/8'],
  ])('%s', (_, outputs, pairs, text) => {
    expect(deskPairs(outputs)).toEqual(pairs);
    expect(pairsText(outputs)).toBe(text);
  });

  it('are not all told where they are many', () => {
    const list = Array.from({ length: 11 }, (_, n) => `${2 * n + 1}/${2 * n + 2}`);
    expect(pairsText(sharing(22, list))).toBe('1/2, 3/4, 5/6, 7/8, 9/10, 11/12, 13/14, 15/16 and 3 more');
  });
});

describe('two outputs of a mix', () => {
  const desk = (outputs: Outputs) => ({ id: 'desk', outputs });

  it.each<[readonly number[], Outputs]>([
    [[3, 4], sharing(16)],
    [[15, 16], sharing(16, 'odd-even')],
    [[3], sharing(16)],
    [[], sharing(16)],
    [[16], sharing(16, ['1/2'])],
    [[3, 16], sharing(16, 'any')],
    [[2, 1], sharing(16, 'any')],
    [[5, 2], sharing(8, ['5/2'])],
    [[3, 16], { count: 16, stereo: 'legs-separate' }],
    [[2, 1], { count: 16, stereo: 'legs-separate' }],
  ])('may be %j on %o', (outputs, of) => {
    expect(pairFault(outputs, desk(of))).toBeNull();
  });

  it.each<[readonly number[], Outputs, readonly string[]]>([
    [[3, 16], sharing(16), ['3 and 16 are no pair', 'to 15/16', 'Write [3, 4] or [15, 16], or take']],
    [[2, 1], sharing(16), ['the wrong way round', 'the left of the pair is 1. Write [1, 2].']],
    [[2, 3], sharing(16), ['Write [1, 2] or [3, 4], or take']],
    [[4, 5], sharing(5), ['Write [3, 4], or take']],
    [[1, 2], sharing(8, ['2/1']), ['the left of the pair is 2. Write [2, 1].']],
    [[1, 2], sharing(8, ['3/4', '5/6']), ['Its pairs are 3/4 and 5/6. Take each output', 'outputs.pairs']],
  ])('are no %j on %o', (outputs, of, says) => {
    for (const part of says) expect(pairFault(outputs, desk(of))).toContain(part);
  });
});
