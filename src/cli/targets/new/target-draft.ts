import { readTarget } from '../../../documents/read.js';
import type { Desk } from '../../../model/desk.js';
import { makeDesk } from '../../../model/make-desk.js';
import type { Outcome } from '../../../model/problem.js';
import type { Display, Target } from '../../../model/target.js';
import type { QuantiserSpec } from '../../../quantisers/quantiser.js';
import { fail, type Result } from '../../../units/result.js';
import { needsOf, slotsOf, type ToldGrid } from './needs.js';
import { type OscDraft, writtenOsc } from './osc-draft.js';
import type { SlotGroup } from './typed-slots.js';

/** What is known of a target while it is asked for. */
export interface TargetDraft {
  readonly id: string;
  readonly from: Target | null;
  readonly title: string | null;
  readonly provenance: string | null;
  readonly count: number | null;
  readonly stereo: Omit<Target['outputs'], 'count'> | null;
  /** Slots and grids of the target it was started from, where they stay but for some grids. */
  readonly kept: Pick<Target, 'slots' | 'quantisers'> | null;
  readonly areKeptGridsTold: boolean;
  readonly groups: readonly SlotGroup[] | null;
  readonly names: readonly string[] | null;
  readonly told: readonly ToldGrid[];
  /** What was read so far off the knob that is asked for. */
  readonly readings: string | null;
  readonly display: Display | null;
  readonly realisations: Target['realisations'] | null;
  readonly osc: OscDraft | null;
}

/** Nothing known but how it is to be called for programs, and what to begin with. */
export const targetDraft = (id: string, from: Target | null): TargetDraft => ({
  id,
  from,
  title: null,
  provenance: null,
  count: null,
  stereo: null,
  kept: null,
  areKeptGridsTold: false,
  groups: null,
  names: null,
  told: [],
  readings: null,
  display: null,
  realisations: null,
  osc: null,
});

/** Grids by their names. */
export const quantisersOf = ({ kept, told }: TargetDraft): Readonly<Record<string, QuantiserSpec>> =>
  kept?.quantisers ??
  Object.fromEntries(
    told.flatMap(({ reference, spec }) => (spec && typeof reference === 'string' ? [[reference, spec]] : [])),
  );

/** The grid was read off the desk: every one that can be turned, and nothing about it is open. */
const isGridTried = ({ kept, told }: TargetDraft): boolean => {
  const turned = told.filter(({ spec }) => spec);
  return (
    !kept && turned.length > 0 && turned.every(({ isFromReadings, open }) => isFromReadings && open === null)
  );
};

/** The target a draft has become; what is not known yet is filled in so that it can be read. */
export const targetOf = (draft: TargetDraft): Target => {
  const { id, title, provenance, count, stereo, kept, groups, names, told, display, realisations, osc } =
    draft;
  const slots = kept?.slots ?? slotsOf(groups ?? [{ count: 1, types: ['peaking'] }], names ?? [], told);
  return {
    format: 'bandwright-target/1',
    id,
    title: title ?? 'stand-in',
    provenance: provenance ?? 'stand-in',
    outputs: { count: count ?? 2, ...(stereo ?? { stereo: 'legs-share' }) },
    quantisers: quantisersOf(draft),
    slots,
    realisations: realisations ?? [
      { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
    ],
    display: display ?? {},
    // What was tried with another file says nothing of this one.
    evidence: { grid: isGridTried(draft) ? 'tested' : 'untested', response: 'untested', push: 'untested' },
    ...(osc ? writtenOsc(osc, slots) : {}),
  };
};

/** The target read back by its reader, and its grids made. */
export const readBack = (content: string, source: string): Outcome<Desk> => {
  const read = readTarget(content, { source });
  if (!read.ok) return read;
  const desk = makeDesk(read.value);
  return desk.ok ? desk : fail(desk.error.map((each) => ({ ...each, source })));
};

/** The draft, where nothing is wrong with it as far as it goes; else what the reader would say, in sentences. */
export const checkedTarget = (draft: TargetDraft): Result<Desk, string> => {
  const read = readBack(JSON.stringify(targetOf(draft)), 'target');
  // Slots that are alike have the same said of each.
  return read.ok ? read : fail([...new Set(read.error.map(({ message }) => message))].join(' '));
};

/** The first grid that is not told yet; null where all are. */
export const nextNeed = ({ groups, told }: TargetDraft) => (groups && needsOf(groups)[told.length]) ?? null;
