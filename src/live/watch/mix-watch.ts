import type { Desk } from '../../model/desk.js';
import type { Guard, RecipeMix } from '../../model/recipe.js';
import type { MixPlan } from '../plan/plan.js';
import type { SurveyedMix } from '../write/survey.js';
import type { VerifiedMix } from '../write/verify.js';
import {
  changesBetween,
  isAlike,
  type KnownValues,
  knownAfter,
  type Standing,
  standingBy,
  type ValueChange,
} from './mix-standing.js';
import { type JudgeSlots, judgeBy, type StandingGuard } from './standing-guard.js';

/** A mix to watch, and what its recipe says of it. */
export interface WatchedMix {
  readonly plan: MixPlan;
  readonly limits: Guard['limits'] | null;
  readonly judge: JudgeSlots;
}

/** A mix's plan beside its recipe. */
export const watchedMix = (plan: MixPlan, { guard }: Pick<RecipeMix, 'guard'>, desk: Desk): WatchedMix => ({
  plan,
  limits: guard?.limits ?? null,
  judge: judgeBy({ guard }, desk),
});

/**
 * A mix that stands otherwise than was told last. `found`: otherwise than its recipe when first read. `changed`: some
 * value does not stand as set. `as-set`: all of it stands as set again. `unread`: something gives no fit answer any more.
 */
export interface MixEvent {
  readonly event: 'found' | 'changed' | 'as-set' | 'unread';
  readonly mix: string;
  readonly outputs: readonly number[];
  readonly state: VerifiedMix['state'];
  readonly values: readonly ValueChange[];
  /** What the recipe's own slots did, and do; null where there is no pilot to guard. */
  readonly guard: {
    readonly before: StandingGuard | null;
    readonly now: StandingGuard | null;
    readonly limits: Guard['limits'];
  } | null;
  /** How long it had stood as it did before, as far as was read. */
  readonly afterMs: number;
}

/** How it stood when that was told, and what that did to the pilot. */
interface ToldStanding extends Standing {
  readonly guard: StandingGuard | null;
}

/** What is known of a mix that is being watched; it does not grow. */
export interface MixWatch {
  readonly known: KnownValues;
  /** How it stood when that was last told; null before the first time. */
  readonly told: ToldStanding | null;
  /** How it was read otherwise since, once, and since when; null where it reads as told. */
  readonly pending: { readonly standing: Standing; readonly sinceMs: number } | null;
  /** As what the time since then counts; `isBlind` until it is read for the first time, or again. */
  readonly account: {
    readonly state: Standing['state'];
    readonly sinceMs: number;
    readonly isBlind: boolean;
  };
  readonly totalsMs: Readonly<Record<Standing['state'], number>>;
  readonly lastReadMs: number;
  /** When it last came to stand as told. */
  readonly standsSinceMs: number;
  /** How often it was told to be otherwise than set. */
  readonly changes: number;
  /** How often it read otherwise once, and as before when it was asked again. */
  readonly unconfirmed: number;
}

/** When something was read, and in which round. */
export interface ReadTime {
  readonly atMs: number;
  readonly round: number;
}

export const beginMix = (atMs: number): MixWatch => ({
  known: new Map(),
  told: null,
  pending: null,
  account: { state: 'unread', sinceMs: atMs, isBlind: true },
  totalsMs: { holds: 0, differs: 0, unread: 0 },
  lastReadMs: atMs,
  standsSinceMs: atMs,
  changes: 0,
  unconfirmed: 0,
});

const eventNames = { holds: 'as-set', differs: 'changed', unread: 'unread' } as const;

const closed = (
  { account, totalsMs }: Pick<MixWatch, 'account' | 'totalsMs'>,
  atMs: number,
): MixWatch['totalsMs'] => ({
  ...totalsMs,
  [account.state]: totalsMs[account.state] + atMs - account.sinceMs,
});

/** Takes what was read for how the mix stands from when it was first read so, and tells what is new. */
const accept = (
  before: MixWatch,
  standing: Standing,
  sinceMs: number,
  { plan, limits, judge }: WatchedMix,
): { readonly mix: MixWatch; readonly event: MixEvent | null } => {
  const { told, account } = before;
  const { state } = standing;
  const guard = judge(standing.slots);
  const event: MixEvent | null =
    told === null && state === 'holds'
      ? null
      : {
          event: told === null ? 'found' : eventNames[state],
          mix: plan.name,
          outputs: plan.outputs,
          state,
          values: changesBetween(told, standing),
          guard: limits && { before: told?.guard ?? null, now: guard, limits },
          afterMs: sinceMs - before.standsSinceMs,
        };
  return {
    mix: {
      ...before,
      told: { ...standing, guard },
      pending: null,
      account: { ...account, state, sinceMs },
      totalsMs: closed(before, sinceMs),
      standsSinceMs: told?.state === state ? before.standsSinceMs : sinceMs,
      changes: before.changes + (event !== null && state !== 'holds' ? 1 : 0),
    },
    event,
  };
};

/**
 * Takes in a reading of a mix. What differs from what was told is told once a second reading finds the same, or, where
 * it never stands still, a round after it was first seen.
 */
export const readMix = (
  before: MixWatch,
  reading: SurveyedMix,
  { atMs, round }: ReadTime,
  watched: WatchedMix,
  { desk, everyMs }: { readonly desk: Desk; readonly everyMs: number },
): { readonly mix: MixWatch; readonly event: MixEvent | null } => {
  const known = knownAfter(before.known, reading, round);
  const standing = standingBy(known, watched.plan, desk);
  const { account, told, pending } = before;
  const seen: MixWatch = {
    ...before,
    known,
    lastReadMs: atMs,
    ...(account.isBlind
      ? {
          totalsMs: closed(before, atMs),
          account: { state: told?.state ?? 'unread', sinceMs: atMs, isBlind: false },
        }
      : {}),
  };
  if (told === null && standing.state === 'holds') return accept(seen, standing, atMs, watched);
  if (told !== null && isAlike(told, standing)) {
    const unconfirmed = before.unconfirmed + (pending === null ? 0 : 1);
    return { mix: { ...seen, pending: null, unconfirmed }, event: null };
  }
  const sinceMs = pending?.sinceMs ?? atMs;
  const isSettled = pending !== null && isAlike(pending.standing, standing);
  return isSettled || atMs - sinceMs >= everyMs
    ? accept(seen, standing, sinceMs, watched)
    : { mix: { ...seen, pending: { standing, sinceMs } }, event: null };
};

/** Nothing is known of it from when it was last read until it is read again. */
export const loseMix = (before: MixWatch): MixWatch =>
  before.account.isBlind
    ? before
    : {
        ...before,
        pending: null,
        totalsMs: closed(before, before.lastReadMs),
        account: { state: 'unread', sinceMs: before.lastReadMs, isBlind: true },
      };

/** How long a mix stood as its recipe set it, how long otherwise, and how long that was not known. */
export interface MixStood {
  readonly name: string;
  readonly outputs: readonly number[];
  /** How it stood last; null where it never came to be told. */
  readonly state: VerifiedMix['state'] | null;
  readonly stoodMs: number;
  readonly otherwiseMs: number;
  readonly notKnownMs: number;
  readonly changes: number;
  readonly unconfirmed: number;
  readonly guard: StandingGuard | null;
}

/** Ends a mix. What was read otherwise at the very end, and not read again, counts as it was read. */
export const endMix = (before: MixWatch, watched: WatchedMix, atMs: number): MixStood => {
  const { pending, account } = before;
  const mix = pending ? accept(before, pending.standing, pending.sinceMs, watched).mix : before;
  const { holds, differs, unread } = closed(mix, atMs);
  return {
    name: watched.plan.name,
    outputs: watched.plan.outputs,
    state: mix.told && (account.isBlind ? 'unread' : mix.told.state),
    stoodMs: holds,
    otherwiseMs: differs,
    notKnownMs: unread,
    changes: mix.changes,
    unconfirmed: mix.unconfirmed,
    guard: account.isBlind ? null : (mix.told?.guard ?? null),
  };
};
