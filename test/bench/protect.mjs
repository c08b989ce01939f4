import { readFile } from 'node:fs/promises';
import {
  buildChain,
  fits,
  guardFigures,
  guardScope,
  guardTask,
  makeDesk,
  protectiveIntents,
} from '../../dist/index.js';
import { exhaustive } from './exhaustive.mjs';
import { pathOf } from './processes.mjs';
import { interleave, median, milliseconds } from './rounds.mjs';

const protect = fits.find(({ name }) => name === 'protect');
const system = { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, pilotHz: 19000 };
const scope = guardScope(19000, { windowHz: 50, keepLossAtMostDb: 1 });
/** One bell in so many is looked at by the exhaustive search of the whole; its time is scaled up by it. */
const every = 100;

const rates = [48000, 44100, 96000];
const realisations = [
  ...rates.map((sampleRateHz) => ({
    id: `cookbook-${sampleRateHz}`,
    design: 'cookbook',
    qMeaning: 'cookbook',
    sampleRateHz,
  })),
  { id: 'matched', design: 'matched', qMeaning: 'cookbook', sampleRateHz: 48000 },
  { id: 'nyquist', design: 'nyquist-gain', qMeaning: 'cookbook', sampleRateHz: 48000 },
  { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
];

/** Bells and cuts only: what the plain search looks at. */
const withoutShelves = ({ types, ...slot }) => {
  const { highshelf: _, ...kept } = types;
  return { ...slot, types: kept };
};

const deskOf = (archetype, ways, quantisers = {}) => {
  const desk = makeDesk({
    ...archetype,
    slots: archetype.slots.map(withoutShelves),
    quantisers: { ...archetype.quantisers, ...quantisers },
    realisations: realisations.slice(0, ways),
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const intents = protectiveIntents(system, { mixes: [], systems: {} });
const fitOn = (desk, spareSlots) =>
  protect.fit(intents, {
    desk,
    slots: desk.slots,
    guard: guardTask(intents, desk.target.realisations, scope),
    spareSlots,
  });
const filterOf = ({ type, set }) => ({ type, ...set });

/** Shipped desks: all stages of the default beside the single search that a stated limit takes, all kinds of setting. */
const measureLadder = async (rounds) => {
  const rows = [];
  for (const id of ['log-179', 'octave-12', 'digits-3', 'floats']) {
    const text = await readFile(pathOf(`targets/${id}.json`), 'utf8');
    const desk = makeDesk(JSON.parse(text)).value;
    const fitWithin = (choices) => () =>
      protect.fit(intents, {
        desk,
        slots: desk.slots,
        guard: guardTask(intents, desk.target.realisations, guardScope(19000, choices)),
        spareSlots: 0,
      });
    const taken = await interleave(
      { ladder: fitWithin({}), single: fitWithin({ keepLossAtMostDb: 1 }) },
      rounds,
    );
    rows.push({ id, ladder: median(taken.ladder), single: median(taken.single) });
  }
  return rows;
};

const timeFit = async (desk, spareSlots, rounds) => {
  const times = [];
  let outcome;
  for (let round = -1; round < rounds; round++) {
    const taken = await milliseconds(() => {
      outcome = fitOn(desk, spareSlots);
    });
    if (round >= 0) times.push(taken);
  }
  return { milliseconds: median(times), outcome };
};

/** The protective search and a plain exhaustive one on the same desk, and whether they come to the same. */
const compare = async (desk, rounds, oneIn) => {
  const { milliseconds: ours, outcome } = await timeFit(desk, 0, rounds);
  const [realisation] = desk.target.realisations;
  const fixed = outcome.filters.filter(({ role }) => role === 'low-cut').map(filterOf);
  const [slot] = desk.slots;
  const slotTypes = Object.fromEntries(slot.types);
  let plain;
  const taken = await milliseconds(() => {
    plain = exhaustive(slotTypes, fixed, realisation, scope, oneIn);
  });
  const chain = buildChain(outcome.filters.map(filterOf), realisation);
  const found = guardFigures(chain, scope, realisation.sampleRateHz).pilotAttenuationDb;
  return {
    settings: plain.looked * oneIn,
    oneIn,
    milliseconds: ours,
    exhaustiveMilliseconds: taken * oneIn,
    ratio: (taken * oneIn) / ours,
    apartDb: oneIn === 1 ? Math.abs(plain.pilotAttenuationDb - found) : null,
  };
};

/** The protective search: against plain search, and how its time grows. */
export const measureProtect = async (rounds) => {
  const archetype = JSON.parse(await readFile(pathOf('targets/log-179.json'), 'utf8'));
  const coarse = {
    q: { kind: 'geometric', from: 0.33, to: 10.6, count: 12 },
    gain: { kind: 'linear', from: -15, to: 15, step: 5 },
  };
  const reduced = await compare(deskOf(archetype, 1, coarse), rounds, 1);
  const whole = await compare(deskOf(archetype, 1), rounds, every);
  const growth = [];
  for (const ways of [1, 3, 6]) {
    for (const spareSlots of [0, 1, 2]) {
      const { milliseconds: taken, outcome } = await timeFit(
        deskOf({ ...archetype, slots: sixSlots(archetype) }, ways),
        spareSlots,
        3,
      );
      growth.push({
        ways,
        cuts: spareSlots + 1,
        milliseconds: taken,
        missedAtMostDb: outcome.unproved?.missedAtMostDb ?? 0,
      });
    }
  }
  const steps = [];
  for (const count of [45, 90, 179, 357, 713]) {
    const frequency = { kind: 'geometric', from: 26, to: 21700, count };
    const { milliseconds: taken } = await timeFit(deskOf(archetype, 6, { frequency }), 0, 3);
    steps.push({ count, milliseconds: taken });
  }
  const ladder = await measureLadder(rounds);
  return { reduced, whole, growth, steps, ladder };
};

const sixSlots = ({ slots }) => [...slots, { ...slots[0], id: '5' }, { ...slots[0], id: '6' }];
