import { describe, expect, it } from 'vitest';
import { guardScope } from '../../src/guard/guard-scope.js';
import { inspectMix } from '../../src/live/inspect/inspect-mix.js';
import type { InspectedMix, WeighedFinding } from '../../src/live/inspect/inspection.js';
import { planInspection } from '../../src/live/inspect/plan-inspection.js';
import { survey } from '../../src/live/write/survey.js';
import type { Desk } from '../../src/model/desk.js';
import { type ProtectiveRole, protectiveRoles } from '../../src/model/intent.js';
import type { Rig } from '../../src/model/rig.js';
import type { OscArgument } from '../../src/osc/message.js';
import { db, type Hz, hz } from '../../src/units/quantity.js';
import { fakeSession } from './fake-session.js';
import { shippedDesk, rig as show } from './recipe-on.js';
import { answersOf, type SlotAnswers, steplessDesk } from './stepless-desk.js';
import { takenAtPilotDb, type WebAudioFilter, webAudioDb } from './web-audio.js';

const desk = await steplessDesk();

const heron: Rig = { ...show, mixes: show.mixes.filter(({ name }) => name === 'Heron') };

/** Twelve decibels are asked for at the pilot, and one may be lost, so that figures need no reckoning. */
const scope = guardScope(hz(19000), {
  preEmphasisMicroseconds: 50,
  pilotAttenuationAtLeastDb: db(12),
  keepLossAtMostDb: db(1),
});

const inspect = async (
  answers: ReadonlyMap<string, OscArgument>,
  on: Desk = desk,
  {
    roles = protectiveRoles,
    windowHz = scope.windowHz,
  }: { readonly roles?: readonly ProtectiveRole[]; readonly windowHz?: Hz } = {},
): Promise<InspectedMix> => {
  const plans = planInspection(heron, on);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  const { session, writes } = fakeSession(answers);
  const surveyed = await survey(
    plans.value.map(({ plan }) => plan),
    on,
    session,
    new AbortController().signal,
  );
  expect(writes).toEqual([]);
  const mix = surveyed?.[0];
  if (!mix) throw new Error('nothing was read');
  return inspectMix(mix, on, { scope: { ...scope, windowHz }, keepLossAsAskedDb: null, roles });
};

const names: ReadonlyMap<string, OscArgument> = new Map([['/mix/2/name', { type: 's', value: 'Heron' }]]);

const standing = (slots: Readonly<Record<string, SlotAnswers>>) =>
  inspect(new Map([...answersOf(1, 'Heron', slots), ...names]));

const findingsOf = (mix: InspectedMix): readonly WeighedFinding[] =>
  mix.read.flatMap(({ findings }) => findings);

const kindsOf = (mix: InspectedMix, weight?: WeighedFinding['weight']): readonly string[] =>
  findingsOf(mix)
    .filter((each) => weight === undefined || each.weight === weight)
    .map(({ kind }) => kind);

const found = <Kind extends WeighedFinding['kind']>(
  mix: InspectedMix,
  kind: Kind,
): WeighedFinding & { readonly kind: Kind } => {
  const finding = findingsOf(mix).find((each) => each.kind === kind);
  if (!finding) throw new Error(`nothing found of ${kind}: ${kindsOf(mix).join(', ')}`);
  return finding as WeighedFinding & { readonly kind: Kind };
};

const takenOf = ({ read }: InspectedMix): number => read[0]?.worst?.pilotAttenuationDb ?? Number.NaN;

// Each filter twice: as the desk tells it, and in the terms of the W3C Web Audio API, whose figures are expected.
const lowCut: SlotAnswers = { type: 'Low cut', frequency: 40, slope: 12 };
const highCut: SlotAnswers = { type: 'High cut', frequency: 16000, slope: 12 };
const highCutW3c: WebAudioFilter = { type: 'lowpass', frequencyHz: 16000 };
const onPilot: SlotAnswers = { type: 'Bell', frequency: 19000, q: 4, gain: -15 };
const onPilotW3c: WebAudioFilter = { type: 'peaking', frequencyHz: 19000, q: 4, gainDb: -15 };
const shelf: SlotAnswers = { type: 'High shelf', frequency: 8000, gain: 6 };
const shelfW3c: WebAudioFilter = { type: 'highshelf', frequencyHz: 8000, gainDb: 6 };

/** Single precision, theirs. */
const digits = 3;

describe('a mix as it stands', () => {
  it('is safe where its three filters stand', async () => {
    const mix = await standing({ 1: lowCut, 2: onPilot, 3: highCut });
    const lowCutW3c: WebAudioFilter = { type: 'highpass', frequencyHz: 40 };
    expect(takenOf(mix)).toBeCloseTo(takenAtPilotDb(lowCutW3c, onPilotW3c, highCutW3c), digits);
    expect([mix.state, mix.read[0]?.verdict, kindsOf(mix)]).toEqual(['safe', 'met', []]);
  });

  it('takes what a bell takes at its centre: its gain', async () => {
    // A bell of the W3C Audio EQ Cookbook has exactly its gain at its centre.
    const mix = await standing({ 2: onPilot });
    const edges = takenAtPilotDb(onPilotW3c);
    expect(edges).toBeGreaterThan(14);
    expect(takenOf(mix)).toBeCloseTo(edges, digits);
    const centre = await inspect(answersOf(1, 'Heron', { 2: onPilot }), desk, { windowHz: hz(0) });
    expect(takenOf(centre)).toBeCloseTo(15, 9);
  });

  it('is at risk where nothing cuts at all', async () => {
    const mix = await standing({});
    expect(mix.state).toBe('at-risk');
    expect(takenOf(mix)).toBeCloseTo(0, 12);
    expect(kindsOf(mix, 'risk')).toEqual(['no-cut-near', 'no-high-cut']);
    expect(found(mix, 'no-cut-near').pilotDb).toBe(0);
    expect(kindsOf(mix, 'notice')).toEqual(['no-low-cut']);
  });

  it('is at risk where only a high cut cuts, and tells what that takes', async () => {
    const mix = await standing({ 1: lowCut, 3: { ...highCut, frequency: 19000 } });
    expect(kindsOf(mix, 'risk')).toEqual(['no-cut-near']);
    const taken = takenAtPilotDb({ ...highCutW3c, frequencyHz: 19000 });
    expect(taken).toBeLessThan(12);
    expect(found(mix, 'no-cut-near').pilotDb).toBeCloseTo(taken, digits);
  });

  it('tells of a cut that is off, and what it would come to on', async () => {
    const mix = await standing({ 1: lowCut, 2: { ...onPilot, on: 0 } });
    expect(mix.state).toBe('at-risk');
    expect(kindsOf(mix, 'risk')).toEqual(['no-cut-near', 'cut-is-off', 'no-high-cut']);
    const off = found(mix, 'cut-is-off');
    expect(off.slot).toBe('2');
    expect(off.pilotDb).toBeCloseTo(takenAtPilotDb(onPilotW3c), 2);
  });

  it('tells of a cut that misses, how far, and what it takes', async () => {
    // 18656 Hz is the nearest to 19 kHz on the grid of log-179; a narrow bell there does little at the pilot.
    const beside: WebAudioFilter = { type: 'peaking', frequencyHz: 18656, q: 12, gainDb: -15 };
    const mix = await standing({ 1: lowCut, 2: { type: 'Bell', frequency: 18656, q: 12, gain: -15 } });
    expect(kindsOf(mix, 'risk')).toEqual(['cut-misses', 'no-high-cut']);
    const missed = found(mix, 'cut-misses');
    expect(missed.offsetHz).toBe(-344);
    // 1200 log2(18656 / 19000), ISO 80000-8.
    expect(missed.offsetCents).toBeCloseTo(-31.63, 2);
    expect(missed.pilotDb).toBeCloseTo(takenAtPilotDb(beside), digits);
    expect(missed.centredDb).toBeCloseTo(takenAtPilotDb({ ...beside, frequencyHz: 19000 }), digits);
    expect(missed.centredDb - missed.pilotDb).toBeGreaterThan(3);
  });

  it('tells of a cut that is on the pilot and too weak', async () => {
    const mix = await standing({ 1: lowCut, 2: { ...onPilot, gain: -5 } });
    expect(kindsOf(mix, 'risk')).toEqual(['cut-too-weak', 'no-high-cut']);
    expect(found(mix, 'cut-too-weak').pilotDb).toBeCloseTo(
      takenAtPilotDb({ ...onPilotW3c, gainDb: -5 }),
      digits,
    );
  });

  it('counts a treble shelf that lifts the pilot, and blames it alone where the cuts would do', async () => {
    const mix = await standing({ 1: lowCut, 2: onPilot, 4: shelf });
    const taken = takenAtPilotDb(onPilotW3c, shelfW3c);
    expect(taken).toBeLessThan(12);
    expect([mix.state, mix.read[0]?.verdict]).toEqual(['at-risk', 'falls-short']);
    expect(takenOf(mix)).toBeCloseTo(taken, digits);
    const lift = found(mix, 'lifts-pilot');
    expect(kindsOf(mix, 'risk')).toEqual(['lifts-pilot', 'no-high-cut']);
    expect(lift.slot).toBe('4');
    expect(lift.liftDb).toBeCloseTo(-takenAtPilotDb(shelfW3c), digits);
    // An analogue shelf is at its full gain far above its corner, and all but there at 19 kHz.
    expect(lift.liftDb).toBeGreaterThan(5.5);
    expect(lift.liftDb).toBeLessThanOrEqual(6);
  });

  it('tells of a boost by the way where the cuts make up for it', async () => {
    const mix = await standing({ 1: lowCut, 2: onPilot, 3: highCut, 4: shelf });
    expect(takenAtPilotDb(onPilotW3c, highCutW3c, shelfW3c)).toBeGreaterThan(12);
    expect(mix.state).toBe('safe');
    expect(kindsOf(mix, 'risk')).toEqual([]);
    expect(kindsOf(mix, 'notice')).toContain('lifts-pilot');
  });

  it('names the greatest boost first', async () => {
    const bell: SlotAnswers = { type: 'Bell', frequency: 17000, q: 1, gain: 12 };
    const mix = await standing({ 2: onPilot, 4: shelf, 5: bell });
    const lifts = findingsOf(mix).flatMap((each) => (each.kind === 'lifts-pilot' ? [each.slot] : []));
    const bellLift = -takenAtPilotDb({ type: 'peaking', frequencyHz: 17000, q: 1, gainDb: 12 });
    expect(bellLift).toBeGreaterThan(-takenAtPilotDb(shelfW3c));
    expect(lifts).toEqual(['5', '4']);
  });

  it('tells of music lost and of levels raised, which are no risk to the pilot', async () => {
    const guarded = { 1: lowCut, 2: onPilot, 3: highCut };
    // 80 Hz doubled eight times over is 20480 Hz: 1280 Hz is four octaves up, a point the figures are taken at.
    const dip: WebAudioFilter = { type: 'peaking', frequencyHz: 1280, q: 1, gainDb: -9 };
    const lost = await standing({ ...guarded, 5: { type: 'Bell', frequency: 1280, q: 1, gain: -9 } });
    expect([lost.state, lost.read[0]?.verdict, kindsOf(lost)]).toEqual([
      'safe',
      'falls-short',
      ['music-lost'],
    ]);
    const all: readonly WebAudioFilter[] = [
      { type: 'highpass', frequencyHz: 40 },
      onPilotW3c,
      highCutW3c,
      dip,
    ];
    expect(found(lost, 'music-lost')).toMatchObject({ slot: '5', limitDb: 1, weight: 'notice' });
    expect(found(lost, 'music-lost').lossDb).toBeCloseTo(-(webAudioDb(all, [1280])[0] ?? 0), 2);

    const raised = await standing({ ...guarded, 5: { type: 'Bell', frequency: 640, q: 1, gain: 3 } });
    expect(kindsOf(raised)).toEqual(['level-raised']);
    expect(found(raised, 'level-raised')).toMatchObject({ slot: '5', limitDb: 0.1, weight: 'notice' });
    expect(found(raised, 'level-raised').riseDb).toBeCloseTo(3, 1);
  });

  it('misses no cut that the rig leaves out, and tells where one stands off', async () => {
    const answers = new Map([...answersOf(1, 'Heron', { 1: { ...lowCut, on: 0 }, 2: onPilot }), ...names]);
    const wanted = await inspect(answers);
    expect(kindsOf(wanted)).toEqual(['no-high-cut', 'no-low-cut']);
    expect(found(wanted, 'no-low-cut').offIn).toBe('1');
    expect(found(wanted, 'no-high-cut').offIn).toBeNull();
    expect(kindsOf(await inspect(answers, desk, { roles: ['pilot-cut'] }))).toEqual([]);
  });

  it('is not known where something does not answer, and a boost that is known is told', async () => {
    const answers = new Map([...answersOf(1, 'Heron', { 2: onPilot, 4: shelf }), ...names]);
    answers.delete('/mix/1/filter/2/q');
    const mix = await inspect(answers);
    expect([mix.state, mix.read[0]?.worst, mix.read[0]?.byRealisation]).toEqual(['not-known', null, []]);
    expect(kindsOf(mix)).toEqual(['unclear', 'lifts-pilot']);
    expect(found(mix, 'unclear')).toMatchObject({ slot: '2', unclear: [{ parameter: 'q', why: 'unread' }] });
  });

  it('is not known where a type is none of the target, and none is guessed', async () => {
    const mix = await standing({ 1: lowCut, 2: onPilot, 3: highCut, 4: { type: 'Tilt', gain: 6 } });
    expect([mix.state, kindsOf(mix)]).toEqual(['not-known', ['unclear']]);
  });

  it('hears of outputs that go by another name, whatever case and spaces', async () => {
    const mix = await inspect(new Map([...answersOf(1, '  HERON ', { 2: onPilot })]));
    expect(mix.otherNames).toEqual([{ mix: 'Heron', output: 2, name: null }]);
    const other = await inspect(new Map([...answersOf(1, 'Egret', {}), ...names]));
    expect(other.otherNames).toEqual([{ mix: 'Heron', output: 1, name: 'Egret' }]);
  });
});

describe('a mix whose legs are dialled apart', async () => {
  const apart = await shippedDesk('floats', (target) => ({
    ...target,
    realisations: desk.target.realisations,
    outputs: { ...target.outputs, stereo: 'legs-separate' },
  }));
  const legs = (left: Record<string, SlotAnswers>, right: Record<string, SlotAnswers>) =>
    new Map([...answersOf(1, 'Heron', left), ...answersOf(2, 'Heron', right)]);
  const good = { 1: lowCut, 2: onPilot, 3: highCut };

  it('is as badly off as its worst leg', async () => {
    expect((await inspect(legs(good, good), apart)).state).toBe('safe');
    const mix = await inspect(legs(good, { ...good, 2: { ...onPilot, on: 0 } }), apart);
    expect(takenAtPilotDb(highCutW3c)).toBeLessThan(12);
    expect([mix.state, mix.read.map(({ output, state }) => [output, state])]).toEqual([
      'at-risk',
      [
        [1, 'safe'],
        [2, 'at-risk'],
      ],
    ]);
  });

  it('is at risk where one leg is, though the other is not known', async () => {
    const half = new Map(legs(good, {}));
    half.delete('/mix/1/filter/2/gain');
    const mix = await inspect(half, apart);
    expect([mix.state, mix.read.map(({ state }) => state)]).toEqual(['at-risk', ['not-known', 'at-risk']]);
  });

  it('is not known where one leg is not, though the other is safe', async () => {
    const half = new Map(legs(good, good));
    half.delete('/mix/1/filter/2/gain');
    expect((await inspect(half, apart)).state).toBe('not-known');
  });
});

describe('a mix on a desk that may build its filters in several ways', () => {
  it('is judged by the worst of them, boosts too', async () => {
    const several = await shippedDesk('floats');
    const answers = new Map([...answersOf(1, 'Heron', { 2: onPilot, 4: shelf }), ...names]);
    const mix = await inspect(answers, several);
    const figures = mix.read[0]?.byRealisation ?? [];
    expect(figures.map(({ id }) => id)).toEqual(several.target.realisations.map(({ id }) => id));
    expect(takenOf(mix)).toBe(Math.min(...figures.map(({ pilotAttenuationDb }) => pilotAttenuationDb)));
    // The analogue shelf has not reached its full gain at 19 kHz, the bilinear one all but has.
    expect(found(mix, 'lifts-pilot').liftDb).toBeCloseTo(-takenAtPilotDb(shelfW3c), 1);
  });
});
