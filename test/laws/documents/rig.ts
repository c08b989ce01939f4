import fc from 'fast-check';
import { intentList, protective } from './intents.js';
import { between, id, joined, type Plain, record, slotId, text, unique } from './plain.js';

const audioBand = fc.tuple(between(5, 300), between(8000, 18_000));

const encoder = fc.oneof(
  record({}),
  record({
    encoderLowpassHz: between(18_000, 30_000),
    encoderLowpassDbPerOctave: fc.constantFrom(6, 12, 18, 24, 30, 36, 42, 48),
  }),
);

const fmStereo = audioBand.chain(([audioLowHz, audioHighHz]) =>
  joined(
    record(
      {
        link: fc.constant('fm-stereo'),
        audioLowHz: fc.constant(audioLowHz),
        audioHighHz: fc.constant(audioHighHz),
      },
      {
        title: text,
        pilotHz: between(18_001, 22_000),
        preEmphasisMicroseconds: fc.oneof(fc.constantFrom(0, 25, 50, 75), between(1, 1000)),
        lineUpDbfs: between(-60, 24),
      },
    ),
    encoder,
  ),
);
const plainSystem = record(
  { link: fc.constantFrom('digital', 'wired') },
  { title: text, audioLowHz: between(1e-9, 100), audioHighHz: between(101, 400_000) },
);

/** Outputs that no other mix has. */
export const outputsOf = (index: number): fc.Arbitrary<readonly number[]> =>
  fc.constantFrom(
    [2 * index + 1],
    [2 * index + 2],
    [2 * index + 1, 2 * index + 2],
    [2 * index + 2, 2 * index + 1],
  );

const mixNames = unique(text, 4, 1);

const mixesFeeding = (systems: readonly string[]): fc.Arbitrary<readonly Plain[]> =>
  mixNames.chain((names) =>
    fc.tuple(
      ...names.map((name, index) =>
        record(
          { name: fc.constant(name), outputs: outputsOf(index), feeds: fc.constantFrom(...systems) },
          { freeSlots: unique(slotId, 3) },
        ),
      ),
    ),
  );

export const rig: fc.Arbitrary<Plain> = fc
  .dictionary(id, fc.oneof(fmStereo, plainSystem), { minKeys: 1, maxKeys: 4, noNullPrototype: true })
  .chain((systems) =>
    record(
      {
        format: fc.constant('bandwright-rig/1'),
        title: text,
        systems: fc.constant(systems),
        mixes: mixesFeeding(Object.keys(systems)),
      },
      {
        intents: intentList,
        leaveOut: unique(fc.constantFrom(...protective.filter((each) => each !== 'high-cut')), 2),
        guard: joined(
          record(
            {},
            {
              windowHz: between(0, 1000),
              keepLowHz: between(1e-9, 5000),
              keepHighHz: between(5001, 400_000),
              pilotAttenuationAtLeastDb: between(0, 120),
            },
          ),
          fc.oneof(
            record({}, { keepLossAtMostDb: between(0, 60) }),
            record({ keepLossToReachDb: between(0, 60) }),
          ),
        ),
      },
    ),
  );
