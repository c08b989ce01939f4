import type { OscArgument, OscMessage } from '../../osc/message.js';
import type { Job, JobResult, Line } from './session.js';

/** A line to a desk that cannot be read: what was sent counts as done, and nothing is known to hold. */
export const blindLine = (line: Line): Line => ({
  ...line,
  exchange: async (jobs, signal) => {
    const messages = jobs.flatMap(({ write }) => (write ? [write] : []));
    const sent = await line.tell(messages, signal);
    let at = 0;
    return jobs.map(({ write }): JobResult => {
      const [argument] = write?.args ?? [];
      return argument && at++ < sent ? { kind: 'held', read: argument } : { kind: 'stopped', wasSent: false };
    });
  },
});

/**
 * A line to a desk that does as it is told, given what stands on it: to find out what would be sent. `sent`
 * grows with every message that writes.
 */
export const obedientLine = (
  standing: ReadonlyMap<string, OscArgument>,
): { readonly line: Line; readonly sent: readonly OscMessage[] } => {
  const known = new Map(standing);
  const sent: OscMessage[] = [];
  const take = (message: OscMessage): void => {
    const [argument] = message.args;
    sent.push(message);
    if (argument) known.set(message.address, argument);
  };
  const answer = ({ address, write, judge }: Job): JobResult => {
    if (write) take(write);
    const read = known.get(address);
    if (!read) return { kind: 'silent' };
    const why = judge(read);
    return why === null ? { kind: 'held', read } : { kind: 'otherwise', read, why };
  };
  const line: Line = {
    exchange: async (jobs) => jobs.map(answer),
    tell: async (messages) => {
      for (const message of messages) take(message);
      return messages.length;
    },
    lost: () => null,
    written: () => known,
    counts: () => ({ sent: sent.length, heard: 0, strange: 0 }),
  };
  return { line, sent };
};
