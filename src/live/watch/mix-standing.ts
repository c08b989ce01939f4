import type { Desk } from '../../model/desk.js';
import type { OscArgument } from '../../osc/message.js';
import type { MixPlan } from '../plan/plan.js';
import type { ValueReport } from '../write/report.js';
import { type SurveyedMix, unsurveyed } from '../write/survey.js';
import { type VerifiedMix, verifyMix } from '../write/verify.js';

/** By address: the last answer, the round it was last asked for in, and in how many rounds since none came. */
export type KnownValues = ReadonlyMap<
  string,
  { readonly argument: OscArgument; readonly round: number; readonly missedRounds: number }
>;

/** What is known after a reading of some slots or all. Asked twice in one round, a value is missed once at most. */
export const knownAfter = (known: KnownValues, { slots }: SurveyedMix, round: number): KnownValues => {
  const after = new Map(known);
  for (const { plan, found } of slots) {
    for (const { name, address } of plan.parameters) {
      const [argument, last] = [found.get(name), known.get(address)];
      if (argument) after.set(address, { argument, round, missedRounds: 0 });
      else if (last && last.round < round)
        after.set(address, { ...last, round, missedRounds: last.missedRounds + 1 });
    }
  }
  return after;
};

/** How a mix stands, all of it as one. */
export interface Standing {
  readonly state: VerifiedMix['state'];
  readonly values: readonly ValueReport[];
  readonly slots: SurveyedMix['slots'];
}

/** A value counts as known until it was missed in two rounds that followed each other. */
const missedAtMost = 1;

/** How it stands by what is known. What one reading missed stands as it did: a packet that is lost is no news. */
export const standingBy = (known: KnownValues, plan: MixPlan, desk: Desk): Standing => {
  const slots = plan.slots.map((slot) => ({
    plan: slot,
    found: new Map(
      slot.parameters.flatMap(({ name, address }) => {
        const last = known.get(address);
        return last && last.missedRounds <= missedAtMost ? [[name, last.argument] as const] : [];
      }),
    ),
  }));
  const { state, values } = verifyMix({ ...unsurveyed(plan), slots }, desk);
  return { state, values, slots };
};

/** As set is as set, to whichever digit it is told. */
const picture = ({ state, read }: ValueReport): string => (state === 'differs' ? `differs ${read}` : state);

export const isAlike = (one: Standing, other: Standing): boolean =>
  one.values.every((value, index) => {
    const beside = other.values[index];
    return beside !== undefined && picture(value) === picture(beside);
  });

/** One value that stands otherwise than was told last; each side as the desk shows it, null where it is not known. */
export interface ValueChange extends Pick<ValueReport, 'output' | 'slot' | 'parameter' | 'address' | 'set'> {
  readonly from: string | null;
  readonly to: string | null;
  readonly state: 'held' | 'differs' | 'unread';
}

export const changesBetween = (before: Standing | null, { values }: Standing): readonly ValueChange[] =>
  values.flatMap((value, index) => {
    const was = before?.values[index];
    const state = value.state === 'held' || value.state === 'unread' ? value.state : 'differs';
    if (was ? picture(was) === picture(value) : state === 'held') return [];
    const { output, slot, parameter, address, set, read } = value;
    return [{ output, slot, parameter, address, from: was?.read ?? null, to: read, set, state }];
  });
