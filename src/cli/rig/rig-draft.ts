import { readRig } from '../../documents/read.js';
import type { Outcome } from '../../model/problem.js';
import type { Link, Mix, Rig, System } from '../../model/rig.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { AudioRange } from './typed-system.js';

/** A system as far as it is told. */
export interface ToldSystem {
  readonly link: Link;
  readonly range: AudioRange | null;
  /** In microseconds, null where it is not known; left out until that is told. */
  readonly preEmphasis?: number | null;
}

/** What is known of a rig while it is asked for. */
export interface RigDraft {
  /** What is kept of the rig it was started from: filters asked for, wishes. */
  readonly rest: Pick<Rig, 'intents' | 'leaveOut' | 'guard'>;
  readonly title: string | null;
  readonly systems: Readonly<Record<string, System>>;
  /** The system that is being told. */
  readonly telling: ToldSystem | null;
  readonly areSystemsTold: boolean;
  readonly mixes: readonly Mix[];
  readonly areMixesTold: boolean;
  readonly areSlotsTold: boolean;
}

/** Nothing known, or all that a rig says. */
export const rigDraft = (from: Rig | null): RigDraft => {
  const { intents, leaveOut, guard } = from ?? {};
  return {
    rest: {
      ...(intents && { intents }),
      ...(leaveOut && { leaveOut }),
      ...(guard && { guard }),
    },
    title: null,
    systems: from?.systems ?? {},
    telling: null,
    areSystemsTold: false,
    mixes: from?.mixes ?? [],
    areMixesTold: false,
    areSlotsTold: false,
  };
};

/** The rig a draft has become. */
export const rigOf = ({ rest, title, systems, mixes }: RigDraft): Rig => ({
  format: 'bandwright-rig/1',
  title: title ?? '',
  systems,
  mixes,
  ...rest,
});

const standIn = { link: 'wired' } as const;

/** Completed by what is not known yet, it can be read as the file it will be. */
const completed = (draft: RigDraft): Rig => {
  const systems = Object.keys(draft.systems).length > 0 ? draft.systems : { 'stand-in': standIn };
  const [feeds = ''] = Object.keys(systems);
  const mixes = draft.mixes.length > 0 ? draft.mixes : [{ name: 'stand-in', outputs: [1], feeds }];
  return { ...rigOf(draft), title: draft.title ?? 'stand-in', systems, mixes };
};

/** Whatever the reader of rigs would say of a draft, in one sentence or more; the draft where it says nothing. */
export const checked = (draft: RigDraft): Result<RigDraft, string> => {
  const read: Outcome<Rig> = readRig(JSON.stringify(completed(draft)), { source: 'rig' });
  if (read.ok) return ok(draft);
  // Places in the file mean nothing to somebody who has not seen it yet.
  return fail(read.error.map(({ message }) => message.replace(/\bmixes\[\d+\] (?=")/g, '')).join(' '));
};
