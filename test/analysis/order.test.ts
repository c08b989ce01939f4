import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ComparedDesk } from '../../src/analysis/compare/compared-desk.js';
import { byMerit } from '../../src/analysis/compare/compared-desk.js';
import { db } from '../../src/units/quantity.js';
import { noLowCut, served, short, unfit } from './hand-made.js';

const at = (attenuationDb: number) => ({ attenuationDb: db(attenuationDb), askedDb: db(15.6) });
const dials = (knobs: number, legsApart = false) => ({ knobs, settings: 1, legsApart });

/** Two desks, the better one first. The source of each is the order that `compare --help` states. */
const cases: readonly (readonly [why: string, better: ComparedDesk, worse: ComparedDesk])[] = [
  [
    'a guard that is met beats any attenuation without',
    served('z', { pilot: at(15.6), keepLossDb: db(3), missing: [noLowCut] }),
    short('a', 0.1),
  ],
  [
    'no filter missing beats more at the pilot and less music lost',
    served('z', { pilot: at(16), keepLossDb: db(3) }),
    served('a', { pilot: at(60), keepLossDb: db(0.2), missing: [noLowCut] }),
  ],
  [
    'a decibel more at the pilot beats less music lost',
    served('z', { pilot: at(17), keepLossDb: db(3) }),
    served('a', { pilot: at(16), keepLossDb: db(0.2) }),
  ],
  [
    'less than a decibel at the pilot is nothing to half a decibel of music',
    served('z', { pilot: at(24.6), keepLossDb: db(1) }),
    served('a', { pilot: at(25.4), keepLossDb: db(1.1) }),
  ],
  [
    'less than half a decibel of music is nothing to fewer dials',
    served('z', { keepLossDb: db(1), dials: dials(4) }),
    served('a', { keepLossDb: db(0.6) }),
  ],
  [
    'what shows as the same loss is the same: 1.04 and 1.00 both show 1.0',
    served('z', { keepLossDb: db(1.04), dials: dials(4) }),
    served('a', { keepLossDb: db(1) }),
  ],
  [
    'no loss and a little gain are alike',
    served('z', { keepLossDb: db(0), dials: dials(4) }),
    served('a', { keepLossDb: db(-0.3) }),
  ],
  ['fewer dials decide between equals', served('z', { dials: dials(4) }), served('a')],
  [
    'a leg dialled apart counts its dials twice',
    served('z', { dials: dials(9) }),
    served('a', { dials: dials(5, true) }),
  ],
  ['equals go by their ids', served('a'), served('b')],
  [
    'and by what they are called where the ids are the same',
    served('a', { name: './1.json' }),
    served('a', { name: './2.json' }),
  ],
  [
    'the least short of the pilot is the best of those that fall short',
    short('z', 1, { missing: [noLowCut] }),
    short('a', 1.2),
  ],
  [
    'as short of the pilot, the least music too much',
    short('z', 1, { short: { pilotDb: 1, lossDb: 0.2, riseDb: 0 } }),
    short('a', 1, { short: { pilotDb: 1, lossDb: 0.3, riseDb: 0 } }),
  ],
  ['as short of all, no filter missing', short('z', 1), short('a', 1, { missing: [noLowCut] })],
  [
    'where nothing is to be guarded the ids decide',
    served('a', { verdict: 'nothing-to-guard', pilot: null, keepLossDb: null }),
    served('b', { verdict: 'nothing-to-guard', pilot: null, keepLossDb: null }),
  ],
  ['a desk that falls far short beats one on which the rig does not fit', short('z', 15), unfit('a')],
  ['desks on which it does not fit go by their ids', unfit('a'), unfit('b')],
];

describe('which desk serves a rig better', () => {
  it.each(cases)('%s', (_, better, worse) => {
    expect(byMerit(better, worse)).toBeLessThan(0);
    expect(byMerit(worse, better)).toBeGreaterThan(0);
  });

  it('is the same in whatever order the desks are named', () => {
    const desks = cases.flatMap(([, better, worse], index) =>
      [better, worse].map((desk, which) => ({ ...desk, name: `${index}-${which}` })),
    );
    const names = (of: readonly ComparedDesk[]) => of.map(({ name }) => name);
    const expected = names(desks.toSorted(byMerit));
    const shuffled = fc.shuffledSubarray(desks, { minLength: desks.length });
    fc.assert(
      fc.property(shuffled, (each) => {
        expect(names(each.toSorted(byMerit))).toEqual(expected);
      }),
    );
  });
});
