import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { FaultEvent } from '../events.js';
import { delay } from './delay.js';
import { duplicate } from './duplicate.js';
import type { Fault, FaultAct, FaultContext, MessageDelivery } from './fault.js';
import { loss } from './loss.js';
import { meddle } from './meddle.js';
import { reorder } from './reorder.js';
import { silentAfter } from './silent-after.js';
import { stuck } from './stuck.js';
import { wrongType } from './wrong-type.js';

/** Every fault a stand-in can be asked for. A message meets those asked for in this order, an answer in reverse. */
export const faults: readonly Fault[] = [
  loss,
  duplicate,
  reorder,
  delay,
  silentAfter,
  meddle,
  stuck,
  wrongType,
];

/** A fault at work. */
interface ActiveFault {
  readonly fault: Fault;
  readonly act: FaultAct;
}

/** The faults that were asked for, at the two places where they meet messages. */
export interface AskedFaults {
  /** What a delivery becomes at a place; `tell` is told of whatever changed. */
  applyFaults(
    place: Fault['place'],
    delivery: MessageDelivery,
    tell: (event: FaultEvent) => void,
  ): readonly MessageDelivery[];
}

const activate = (asked: string, context: FaultContext): Result<ActiveFault, string> => {
  const [name = ''] = asked.split('=', 1);
  const fault = faults.find((each) => each.name === name);
  if (!fault) {
    const known = faults.map(({ name, example }) => `${name}=${example}`).join(', ');
    return fail(`There is no fault ${quote(name)}. There are, for instance: ${known}.`);
  }
  const act = fault.create(asked.slice(name.length + 1), context);
  return act.ok
    ? ok({ fault, act: act.value })
    : fail(`${quote(asked)} is not understood: ${act.error}, as in ${name}=${fault.example}.`);
};

const effectOf = (delivery: MessageDelivery, became: readonly MessageDelivery[]): FaultEvent['effect'] => {
  const [first] = became;
  if (!first) return 'dropped';
  if (became.length > 1) return 'added-to';
  return first.message === delivery.message ? 'held-back' : 'changed';
};

/**
 * Makes the faults that are asked for as `loss=10%`. Each draws from a stream of chance of its own, so that one
 * more or less changes nothing for the others. Problems: a fault nobody knows, a setting it does not take.
 */
export const makeAskedFaults = (
  asked: readonly string[],
  nextStream: () => () => number,
  desk: {
    readonly addresses: readonly string[];
    isQuestion(message: MessageDelivery['message']): boolean;
    makeMeddleMessage(
      address: string,
      random: () => number,
      first?: MessageDelivery['message'],
    ): MessageDelivery['message'] | null;
  },
): Outcome<AskedFaults> => {
  const problems: Problem[] = [];
  const { addresses, isQuestion } = desk;
  const active = asked.flatMap((each) => {
    const random = nextStream();
    const made = activate(each, {
      random,
      addresses,
      isQuestion,
      makeMeddleMessage: (address, first) => desk.makeMeddleMessage(address, random, first),
    });
    if (!made.ok) problems.push(problem('usage', 'faults', made.error));
    return made.ok ? [made.value] : [];
  });
  const inOrder = faults.flatMap((each) => active.filter(({ fault }) => fault === each));
  const reversed = [...inOrder].reverse();
  return problems.length > 0
    ? fail(problems)
    : ok({
        applyFaults: (place, delivery, tell) => {
          const order = delivery.direction === 'in' ? inOrder : reversed;
          return order
            .filter(({ fault }) => fault.place === place)
            .reduce<readonly MessageDelivery[]>(
              (deliveries, { fault, act }) =>
                deliveries.flatMap((each) => {
                  const became = act(each);
                  if (became.length === 1 && became[0] === each) return became;
                  const { direction, message } = each;
                  const effect = effectOf(each, became);
                  tell({ event: 'fault', fault: fault.name, direction, address: message.address, effect });
                  return became;
                }),
              [delivery],
            );
        },
      });
};
