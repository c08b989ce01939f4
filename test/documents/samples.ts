import { expect } from 'vitest';
import { readDocument } from '../../src/documents/read.js';
import type { Outcome, Problem } from '../../src/model/problem.js';

const documents = {
  rig: {
    format: 'bandwright-rig/1',
    title: 'Sample',
    systems: {
      ears: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000 },
      'side-fill': { link: 'wired' },
    },
    mixes: [
      { name: 'One', outputs: [1, 2], feeds: 'ears' },
      { name: 'Two', outputs: [3], feeds: 'side-fill', freeSlots: ['1', '2'] },
    ],
    intents: [{ role: 'low-cut', type: 'highpass', frequencyHz: 40, slopeDbPerOctave: 12 }],
    guard: { keepLowHz: 100 },
  },
  intents: {
    format: 'bandwright-intents/1',
    title: 'Sample',
    intents: [
      { role: 'a', type: 'peaking', frequencyHz: 400, q: 2, gainDb: -3 },
      { role: 'b', type: 'highpass', frequencyHz: 40, slopeDbPerOctave: 12, family: 'butterworth' },
      { role: 'c', type: 'highshelf', frequencyHz: 8000, gainDb: 2 },
    ],
  },
  target: {
    format: 'bandwright-target/1',
    id: 'sample',
    title: 'Sample',
    provenance: 'Invented.',
    outputs: { count: 16, stereo: 'legs-share' },
    quantisers: {
      hertz: { kind: 'linear', from: 20, to: 20000, step: 1 },
      'q-steps': { kind: 'geometric', from: 0.33, to: 10.6, count: 58 },
      gains: { kind: 'linear', from: -16.5, to: 9, step: 0.75 },
      slopes: { kind: 'table', values: [12, 24] },
    },
    slots: [
      {
        id: '1',
        types: {
          peaking: { frequency: 'hertz', q: 'q-steps', gain: 'gains' },
          lowpass: { frequency: 'hertz', slope: 'slopes', family: 'linkwitz-riley' },
        },
      },
      { id: '2', types: { notch: { frequency: 'hertz', q: 'q-steps' } } },
    ],
    realisations: [
      { id: 'digital', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: 48000 },
      { id: 'ideal', design: 'analogue', qMeaning: 'classic', sampleRateHz: null },
    ],
    display: { typeLabels: { peaking: 'Bell', lowpass: 'Hi cut' } },
    evidence: { grid: 'untested', response: 'tested', push: 'known-bad' },
    osc: {
      transports: [{ kind: 'udp', port: 9000 }],
      addresses: {
        type: '/out/{output}/{slot}/type',
        frequency: '/out/{output:02}/{slot}/f',
        outputName: '/out/{output}/name',
      },
      encodings: {
        type: { as: 'index', type: 'i', order: ['peaking', 'lowpass', 'notch'] },
        frequency: { as: 'engineering', type: 'f' },
      },
      read: 'none',
    },
  },
  recipe: {
    format: 'bandwright-recipe/1',
    rig: { title: 'Sample' },
    target: {
      id: 'sample',
      title: 'Sample',
      stereo: 'legs-share',
      evidence: { grid: 'untested', response: 'untested', push: 'untested' },
    },
    fit: 'nearest',
    assumptions: [],
    mixes: [
      {
        name: 'One',
        outputs: [1, 2],
        system: 'ears',
        link: 'fm-stereo',
        treatment: 'protect',
        reason: 'A pilot to guard.',
        filters: [
          {
            slot: '1',
            role: 'pilot-cut',
            type: 'peaking',
            asked: { role: 'pilot-cut', type: 'peaking', frequencyHz: 19000, q: 10, gainDb: -15 },
            set: { frequencyHz: 18675, q: 10, gainDb: -15 },
            steps: {
              frequency: { index: 174, of: 177, display: '18.7 kHz', fromBottom: 174, fromTop: 2 },
            },
            error: { frequencyHz: -325, frequencyCents: -29.9 },
          },
        ],
        guard: null,
        nearest: null,
        alternative: null,
        missing: [],
      },
      {
        name: 'Two',
        outputs: [3],
        system: null,
        link: null,
        treatment: 'leave-alone',
        reason: 'None.',
        filters: [],
        guard: null,
        nearest: null,
        alternative: null,
        missing: [],
      },
    ],
    problems: [],
  },
};

const found = (parameter: string, address: string, argument: unknown, display: string | null) => ({
  parameter,
  address,
  argument,
  display,
});

const journal = {
  format: 'bandwright-journal/1',
  purpose: 'push',
  startedAt: '2026-11-25T12:30:00.250Z',
  title: 'Sample',
  desk: { transport: 'udp', host: '192.0.2.7', port: 9000 },
  target: documents.target,
  mixes: [
    {
      name: 'One',
      outputs: [1, 2],
      slots: [
        {
          output: 1,
          slot: '1',
          found: [
            found('type', '/out/1/1/type', { type: 'i', number: 0 }, 'Bell'),
            found('frequency', '/out/01/1/f', { type: 'f', number: 19000 }, null),
          ],
        },
      ],
    },
    { name: 'Two', outputs: [3], slots: [{ output: 3, slot: '2', found: [] }] },
  ],
  outcome: {
    endedAt: '2026-11-25T12:30:04Z',
    result: 'falls-short',
    mixes: [
      { name: 'One', state: 'applied' },
      { name: 'Two', state: 'untouched' },
    ],
  },
};

/** Plain data to be spoilt in one place; small, valid documents of every kind. */
export const samples = { ...documents, journal };

export type SampleName = keyof typeof samples;

type Spoil = Readonly<Record<string, unknown>>;

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * A sample changed at places named by dots, as in `mixes.1.feeds`; undefined takes a key out.
 */
export const spoilt = (name: SampleName, changes: Spoil): unknown => {
  const copy = structuredClone(samples[name]) as unknown;
  for (const [place, value] of Object.entries(changes)) {
    const keys = place.split('.');
    const last = keys.pop() ?? '';
    let at = copy as Record<string, unknown>;
    for (const key of keys) {
      const next = at[key];
      if (!isPlain(next) && !Array.isArray(next)) throw new Error(`the sample has nothing at ${place}`);
      at = next as Record<string, unknown>;
    }
    if (value === undefined) delete at[last];
    else at[last] = value;
  }
  return copy;
};

export const sampleText = (name: SampleName, changes: Spoil = {}): string =>
  JSON.stringify(spoilt(name, changes), null, 2);

export const problemsIn = (outcome: Outcome<unknown>): readonly Problem[] =>
  outcome.ok ? [] : outcome.error;

/** What a bad text is to be told: the only problem, or the only one unless told otherwise. */
export interface Expected {
  readonly code: string;
  readonly path: string;
  /** What the message must say, among other things. */
  readonly says: string;
  readonly line?: number;
  readonly column?: number;
}

/** Reads a text and requires exactly one problem, as expected, with source, line and column. */
export const expectProblem = async (
  input: string | Uint8Array,
  { code, path, says, line, column }: Expected,
  syntax?: 'json' | 'xml',
): Promise<void> => {
  const outcome = readDocument(input, { source: 'sample.file', ...(syntax ? { syntax } : {}) });
  const problems = problemsIn(outcome);
  expect(problems.map((each) => ({ code: each.code, path: each.path }))).toEqual([{ code, path }]);
  const [only] = problems;
  expect(only?.message).toContain(says);
  expect(only?.source).toBe('sample.file');
  expect(only?.line).toBeGreaterThan(0);
  expect(only?.column).toBeGreaterThan(0);
  if (line !== undefined) expect(only?.line).toBe(line);
  if (column !== undefined) expect(only?.column).toBe(column);
};
