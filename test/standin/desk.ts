import type { Desk } from '../../src/model/desk.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Outcome } from '../../src/model/problem.js';
import type { Target } from '../../src/model/target.js';
import { loadTarget } from '../../src/node/targets.js';
import type { OscArgument } from '../../src/osc/message.js';
import type { StandinEvent } from '../../src/standin/events.js';
import { makeStandin, type Standin, type StandinSetup } from '../../src/standin/standin.js';
import { askedOf } from './asked.js';

/** The value of what must have gone well. */
export const got = <Value>(outcome: Outcome<Value>): Value => {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.error.map(({ message }) => message).join('\n'));
};

/** A shipped target as a desk, changed or not. */
export const shippedDesk = async (
  id: string,
  change: (target: Target) => Target = (target) => target,
): Promise<Desk> => got(makeDesk(change(got(await loadTarget(id)))));

export interface Told {
  readonly standin: Standin;
  readonly events: StandinEvent[];
  /** Sends one message; what it answers. */
  send(address: string, ...args: readonly OscArgument[]): OscArgument | null;
  /** Asks for what stands at an address, as the target says; what comes back where its answers come. */
  ask(address: string): OscArgument | null;
  /** The last event. */
  last(): StandinEvent | undefined;
}

/** A stand-in that remembers what it tells. */
export const standinOf = (desk: Desk, options: StandinSetup = {}): Told => {
  const standin = got(makeStandin(desk, options));
  const events: StandinEvent[] = [];
  standin.onEvent((event) => events.push(event));
  return {
    standin,
    events,
    send: (address, ...args) => standin.applyMessage({ address, args }, 'sender')?.args[0] ?? null,
    ask: (address) => {
      const { message, answerAddress } = askedOf(desk.target, address);
      const answer = standin.applyMessage(message, 'sender');
      return answer?.address === answerAddress ? (answer.args[0] ?? null) : null;
    },
    last: () => events.at(-1),
  };
};

export const i = (value: number): OscArgument => ({ type: 'i', value });
export const f = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
export const s = (value: string): OscArgument => ({ type: 's', value });
