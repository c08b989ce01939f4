import type { Job, JobResult, Session } from '../../src/live/session/session.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';

/** What a desk in memory makes of a write: the changes that follow, the write itself among them. */
export type Effect = (
  address: string,
  argument: OscArgument,
  standing: ReadonlyMap<string, OscArgument>,
) => Iterable<readonly [string, OscArgument]>;

/** A desk in memory, as a session to it: it keeps what it is told, but for what `effect` makes of it. */
export const fakeSession = (
  start: ReadonlyMap<string, OscArgument>,
  effect: Effect = (address, argument) => [[address, argument]],
) => {
  const standing = new Map(start);
  const writes: { readonly address: string; readonly argument: OscArgument }[] = [];
  const reads: string[] = [];
  const take = ({ address, args: [argument] }: OscMessage): void => {
    if (!argument) return;
    writes.push({ address, argument });
    for (const [place, value] of effect(address, argument, standing)) standing.set(place, value);
  };
  const session: Session = {
    exchange: async (jobs) =>
      jobs.map(({ address, write, judge }: Job): JobResult => {
        if (write) take(write);
        reads.push(address);
        const read = standing.get(address);
        if (!read) return { kind: 'silent' };
        const why = judge(read);
        return why === null ? { kind: 'held', read } : { kind: 'otherwise', read, why };
      }),
    tell: async (messages) => {
      for (const message of messages) take(message);
      return messages.length;
    },
    lost: () => null,
    refusal: () => null,
    written: () => new Map(writes.map(({ address, argument }) => [address, argument])),
    counts: () => ({ sent: writes.length, heard: 0, strange: 0 }),
  };
  return { session, standing, writes, reads };
};

/** What answers on a desk whose slots all hold the same values, by parameter. */
export const standingOf = (
  place: string,
  values: Readonly<Record<string, OscArgument>>,
): ReadonlyMap<string, OscArgument> =>
  new Map(Object.entries(values).map(([name, argument]) => [`${place}/${name}`, argument]));
