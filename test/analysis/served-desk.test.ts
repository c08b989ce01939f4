import { describe, expect, it } from 'vitest';
import { rigParts, servedDesk, unfitDesk } from '../../src/analysis/compare/served-desk.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { problem } from '../../src/model/problem.js';
import type { Rig } from '../../src/model/rig.js';
import { hz } from '../../src/units/quantity.js';
import { bell, knob, mixOf, part, targetWith } from './hand-made.js';

const named = (ways = 5) => ({ name: './a.json', target: targetWith(ways) });

describe('how a desk serves a rig', () => {
  it('is the least at the pilot and the most music lost, over the mixes with a pilot', () => {
    const desk = servedDesk(named(), [
      part(mixOf({ pilotDb: 20, lossDb: 1.5 }), 3),
      part(mixOf({ pilotDb: 18, askedDb: 17, lossDb: 0.5 }), 2),
      part(mixOf(null)),
    ]);
    expect(desk).toMatchObject({
      verdict: 'met',
      guardedMixCount: 5,
      pilot: { attenuationDb: 18, askedDb: 17 },
      keepLossDb: 1.5,
      short: { pilotDb: 0, lossDb: 0, riseDb: 0 },
      wayCount: 5,
      name: './a.json',
      id: 'a',
    });
  });

  it('falls short where one mix does, by what that mix is short of', () => {
    const desk = servedDesk(named(), [
      part(mixOf({ pilotDb: 16, askedDb: 15 })),
      part(mixOf({ pilotDb: 18, askedDb: 19, lossDb: 3.5, lossAtMostDb: 3 })),
    ]);
    expect(desk).toMatchObject({ verdict: 'falls-short', pilot: { attenuationDb: 18, askedDb: 19 } });
    expect(desk.short).toEqual({ pilotDb: 1, lossDb: 0.5, riseDb: 0 });
  });

  it('is nothing to guard where no mix has a pilot', () => {
    expect(servedDesk(named(), [])).toMatchObject({
      verdict: 'nothing-to-guard',
      guardedMixCount: 0,
      pilot: null,
      keepLossDb: null,
      dials: { knobs: 0, settings: 0, legsApart: false },
    });
  });

  it('counts the knobs of each distinct setting once, those that cannot move not at all', () => {
    const moved = bell('1', { frequency: knob(3, 10), q: knob(0, 1), gain: knob(2, 31) });
    const other = bell('1', { frequency: knob(4, 10), q: knob(0, 1), gain: knob(2, 31) });
    const elsewhere = bell('2', { frequency: knob(3, 10), q: knob(0, 1), gain: knob(2, 31) });
    const figures = { pilotDb: 20 };
    // By hand: two knobs of a bell can move; the first two parts are set alike, the others not.
    const parts = [[moved], [moved], [other], [elsewhere, moved]].map((filters) =>
      part(mixOf(figures, filters)),
    );
    expect(servedDesk(named(), parts).dials).toEqual({ knobs: 2 + 2 + 4, settings: 3, legsApart: false });
  });

  it('says where both legs of a pair are dialled, not of single outputs', () => {
    const apart = (outputs: readonly number[]) =>
      servedDesk(named(), [part(mixOf({ pilotDb: 20 }, [], [], outputs), 1, { stereo: 'legs-separate' })])
        .dials.legsApart;
    expect([apart([1, 2]), apart([1])]).toEqual([true, false]);
  });

  it('tells each missing filter once, with the number of mixes, and counts what else is otherwise', () => {
    const low = { role: 'low-cut', type: 'highpass', why: 'no-place' } as const;
    const high = { role: 'high-cut', type: 'lowpass', why: 'left-out' } as const;
    const problems = [
      problem('no-place', 'mixes[0]', 'no low cut'),
      problem('left-out', 'mixes[0]', 'high cut left out'),
      problem('beyond-range', 'mixes[0]', 'a knob ends'),
    ];
    const desk = servedDesk(named(1), [
      part(mixOf({ pilotDb: 20 }, [], [low]), 4, { problems: problems.slice(0, 1) }),
      part(mixOf({ pilotDb: 20 }, [], [low, high]), 3, { problems }),
    ]);
    expect(desk.missing).toEqual([
      { ...low, mixCount: 7 },
      { ...high, mixCount: 3 },
    ]);
    expect(desk.otherwiseCount).toBe(1);
  });

  it('tells what a search left open', () => {
    const assumptions = [
      problem('not-proved', 'fit', 'by at most 0.3 dB'),
      problem('encoder-assumed', '', 'none'),
    ];
    const open = servedDesk(named(), [part(mixOf({ pilotDb: 20 }), 1, { assumptions })]);
    const closed = servedDesk(named(), [part(mixOf({ pilotDb: 20 }))]);
    expect([open.notProved, closed.notProved]).toEqual(['by at most 0.3 dB', null]);
  });
});

const rig: Rig = {
  format: 'bandwright-rig/1',
  title: 'A show for tests',
  systems: {
    packs: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(15000) },
    spare: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(15000) },
    cable: { link: 'wired' },
  },
  mixes: [
    { name: 'Wren', outputs: [1], feeds: 'packs' },
    { name: 'Drums', outputs: [3, 4], feeds: 'cable' },
    { name: 'Finch', outputs: [5, 6], feeds: 'packs' },
    { name: 'Lark', outputs: [2], feeds: 'packs', freeSlots: ['2', '3'] },
    { name: 'Heron', outputs: [7], feeds: 'spare' },
    { name: 'Crane', outputs: [8], feeds: 'packs' },
  ],
};

describe('the parts of a rig', () => {
  it('are its mixes with a pilot by system and free slots, a pair standing for the others', () => {
    const parts = rigParts(rig).map(({ rig: { mixes }, mixCount }) => [
      mixes.map(({ name }) => name),
      mixCount,
    ]);
    expect(parts).toEqual([
      [['Finch'], 3],
      [['Lark'], 1],
      [['Heron'], 1],
    ]);
  });
});

describe('a desk on which a rig does not fit', () => {
  const desk = makeDesk({
    ...targetWith(1),
    slots: [{ id: '1', types: { peaking: { frequency: 1000, q: 1, gain: 0 } } }],
    outputs: { count: 6, stereo: 'legs-share' },
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));

  it('is told with what it lacks', () => {
    const { problems, ...told } = unfitDesk('a', desk.value, rig) ?? { problems: [] };
    expect(told).toEqual({
      name: 'a',
      id: 'a',
      title: 'A desk for tests',
      fits: false,
      outputs: { count: 6, highestUsed: 8 },
      slotsUnknown: ['2', '3'],
    });
    expect(new Set(problems.map(({ code }) => code))).toEqual(new Set(['output-unknown', 'slot-unknown']));
  });

  it('is none where the rig fits', () => {
    expect(unfitDesk('a', desk.value, { ...rig, mixes: rig.mixes.slice(0, 3) })).toBeNull();
  });
});
