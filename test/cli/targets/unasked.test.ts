import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerUnasked, type Builder } from '../../../src/cli/guided/builder.js';
import { targetBuilder } from '../../../src/cli/targets/new/target-builder.js';
import type { TargetDraft } from '../../../src/cli/targets/new/target-draft.js';

/**
 * A desk of bells alone is asked about in fewer questions than this: title, outputs, stereo, slots and their names, screen,
 * sample rate, OSC, provenance, and for each of three knobs its grid and twice what would settle it.
 */
const mostQuestions = 18;

const tooMany = 'It asks for ever.';

/** What is missing of a desk of bells, its frequency told so; throws where it is asked for ever. */
const missingOf = (frequency: string) => {
  const builder = targetBuilder('our-desk', null);
  let asked = 0;
  const counting: Builder<TargetDraft> = {
    start: builder.start,
    next: (draft) => {
      if (++asked > mostQuestions) throw new Error(tooMany);
      return builder.next(draft);
    },
  };
  const flags = { outputs: ['2'], slots: ['bell'], q: ['1'], gain: ['3'], rate: ['48k'] };
  return answerUnasked(counting, { ...flags, frequency: [frequency] }).missing;
};

describe('options alone', () => {
  it.each([
    ['1k stop', '1k stop 1 click down VALUE'],
    ['18.67k 19.32k 20.00k stop', '18.67k 19.32k 20.00k stop .. VALUE bottom'],
    ['20 20.6 21.2 stop .. 20k top', '20 20.6 21.2 stop .. 20k top 1 click down VALUE'],
  ])('that leave readings open are told so, and not asked about for ever: %s', (readings, example) => {
    const missing = missingOf(readings);
    expect(missing.map(({ flag, example: told }) => [flag, told])).toEqual([['--frequency', example]]);
  });

  it('come to an end whatever was read', () => {
    const reading = fc.tuple(
      fc.integer({ min: 20, max: 20000 }),
      fc.constantFrom('', ' stop', ' top', ' bottom', '!'),
    );
    const way = fc.constantFrom(' ', ' .. ', ' 3 clicks up ', ' 40 clicks down ');
    const readings = fc.array(fc.tuple(way, reading), { minLength: 1, maxLength: 4 }).map((all) =>
      all
        .map(([between, [value, mark]]) => `${between}${value}${mark}`)
        .join('')
        .trim(),
    );
    fc.assert(
      fc.property(readings, (text) => {
        expect(missingOf(text).every(({ flag }) => flag === '--frequency')).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
});
