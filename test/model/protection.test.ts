import { describe, expect, it } from 'vitest';
import { protectionNotes, protectiveIntents } from '../../src/model/protection.js';
import type { FmStereoSystem, Rig } from '../../src/model/rig.js';
import { db, hz, q } from '../../src/units/quantity.js';

const system = (changes: Partial<FmStereoSystem> = {}): FmStereoSystem => ({
  link: 'fm-stereo',
  audioLowHz: hz(40),
  audioHighHz: hz(15000),
  pilotHz: hz(19000),
  ...changes,
});

const rig = (changes: Partial<Rig> = {}): Rig => ({
  format: 'bandwright-rig/1',
  title: 'A show for tests',
  systems: {},
  mixes: [],
  ...changes,
});

const frequencyOf = (role: string, of: FmStereoSystem, within = rig()) =>
  protectiveIntents(of, within).find((intent) => intent.role === role)?.frequencyHz;

describe('filters derived from a system', () => {
  // Requirement: low cut at the lower limit, from 35 to 40 Hz; cut at the pilot; high cut at the upper limit.
  it.each([
    { audioLowHz: 20, lowCutHz: 35, moved: true },
    { audioLowHz: 35, lowCutHz: 35, moved: false },
    { audioLowHz: 38, lowCutHz: 38, moved: false },
    { audioLowHz: 60, lowCutHz: 40, moved: true },
  ])(
    'a lower limit of $audioLowHz Hz asks for a low cut at $lowCutHz Hz',
    ({ audioLowHz, lowCutHz, moved }) => {
      const of = system({ audioLowHz: hz(audioLowHz) });
      expect(frequencyOf('low-cut', of)).toBe(lowCutHz);
      expect(protectionNotes('packs', of, rig()).map(({ code }) => code)).toEqual(
        moved ? ['low-cut-moved'] : [],
      );
    },
  );

  it('cuts at the pilot and at the upper limit', () => {
    expect(frequencyOf('pilot-cut', system({ pilotHz: hz(19001) }))).toBe(19001);
    expect(frequencyOf('high-cut', system({ audioHighHz: hz(14000) }))).toBe(14000);
  });

  it('takes 19 kHz for a pilot that is not given, and says so where it is missing', () => {
    const { pilotHz: _, ...unsaid } = system();
    expect(frequencyOf('pilot-cut', unsaid)).toBe(19000);
    expect(protectionNotes('stage-fm', unsaid, rig())).toMatchObject([
      { code: 'pilot-assumed', path: 'systems["stage-fm"].pilotHz' },
    ]);
  });
});

describe("a rig's own wishes", () => {
  const lower = { role: 'low-cut', type: 'highpass', frequencyHz: hz(80), q: q(0.7) } as const;
  const boost = { role: 'presence', type: 'peaking', frequencyHz: hz(3000), q: q(1), gainDb: db(2) } as const;

  it('an intent with a protective role replaces the derived one, others are added, by frequency', () => {
    const intents = protectiveIntents(system(), rig({ intents: [boost, lower] }));
    expect(intents.map(({ role, frequencyHz }) => [role, frequencyHz])).toEqual([
      ['low-cut', 80],
      ['presence', 3000],
      ['high-cut', 15000],
      ['pilot-cut', 19000],
    ]);
  });

  it('leaves out what is not wanted', () => {
    const intents = protectiveIntents(system(), rig({ leaveOut: ['low-cut'] }));
    expect(intents.map(({ role }) => role)).toEqual(['high-cut', 'pilot-cut']);
  });
});
