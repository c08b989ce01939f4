import { type Problem, problem } from '../../model/problem.js';
import type { Question } from '../../osc/asking.js';
import type { OscCodec } from '../../osc/codec.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import { withAnySignal } from './any-signal.js';
import { type Clock, makeRateLimit } from './clock.js';
import { type Answer, makeInbox } from './inbox.js';
import type { Job, JobResult, RetryPolicy, Session } from './session.js';
import { answerWaitMs, makeSilence } from './silence.js';
import type { Transport } from './transport.js';

export interface SessionOptions {
  readonly transport: Transport;
  readonly codec: OscCodec;
  readonly clock: Clock;
  readonly ratePerSecond: number;
  readonly retry: RetryPolicy;
  /** Told how much longer a desk that has never answered is waited for, and null once it answers. */
  readonly onSilence?: (leftMs: number | null) => void;
}

/** Questions on their way at once: more would overrun the buffers on the way where the rate is high. */
const mostAtOnce = 32;

/** A job under way. */
interface Pending {
  readonly job: Job;
  readonly question: Question;
  result: JobResult | null;
  answer: Answer | null;
  /** How often it has been sent without coming to hold. */
  failures: number;
  /** What last came back and was not as it should be. */
  otherwise: { readonly read: OscArgument | null; readonly why: string } | null;
  wasSent: boolean;
}

const pendingFor = (job: Job): Pending | null =>
  job.question && {
    job,
    question: job.question,
    result: null,
    answer: null,
    failures: 0,
    otherwise: null,
    wasSent: false,
  };

const stopped = ({ wasSent }: Pending): JobResult => ({ kind: 'stopped', wasSent });

/** What a session that gives a desk up says of it. */
export const nothingMoreSent = 'Nothing more was sent.';

interface Came {
  readonly sent: number;
  readonly strange: number;
  readonly lastStrange: string | null;
}

/** Nothing that was asked for came back: what did, and how often. */
const silent = (destination: string, { sent, strange, lastStrange }: Came): Problem =>
  problem(
    'desk-silent',
    '',
    `No answer from ${destination} to ${sent} message${sent === 1 ? '' : 's'}${lastStrange === null ? '' : `; ${strange} packet${strange === 1 ? '' : 's'} came that tell${strange === 1 ? 's' : ''} nothing that was asked for, the last ${lastStrange}`}. ${nothingMoreSent} Check that the desk is on, that OSC is switched on there, the address and the port, that this computer is in its network, and that the desk is asked as its manual says: osc.read in the target.`,
  );

const refuses = (destination: string): Problem =>
  problem(
    'desk-unreachable',
    '',
    `No answer from ${destination}; the port refuses, so nothing listens there. ${nothingMoreSent} Check that OSC is switched on at the desk, and the address and the port.`,
  );

const chunksOf = <Item>(items: readonly Item[], size: number): readonly (readonly Item[])[] =>
  Array.from({ length: Math.ceil(items.length / size) }, (_, index) =>
    items.slice(index * size, (index + 1) * size),
  );

/** Opens a conversation over a transport. */
export const openSession = (options: SessionOptions): Session => {
  const { transport, codec, clock, ratePerSecond, retry, onSilence } = options;
  const silence = makeSilence(clock, retry);
  const inbox = makeInbox(codec);
  const ownTurn = makeRateLimit(clock, ratePerSecond);
  const ended = new AbortController();
  const written = new Map<string, OscArgument>();
  let lost: Problem | null = null;
  let lastFault: Problem | null = null;
  /** Since when everything has been refused and nothing heard; null where that is not so. */
  let refusedSinceMs: number | null = null;
  let sent = 0;
  let wasSilent = false;
  let isSilenceTold = false;
  /** What was answered last: asked again when others are silent, to tell a lost desk from a deaf address. */
  let lively: Question | null = null;

  const noAnswer = (): Problem => {
    const { strange } = inbox.counts();
    return silent(transport.destination, { sent, strange, lastStrange: inbox.lastStrange() });
  };

  const lose = (why: Problem): void => {
    lost ??= why;
    ended.abort();
  };
  transport.onPacket((packet) => {
    refusedSinceMs = null;
    if (!inbox.receive(packet)) return;
    if (isSilenceTold) onSilence?.(null);
    isSilenceTold = false;
    silence.hear();
  });
  transport.onFault(({ problem: told, ended: isOver, refused }) => {
    lastFault = told;
    if (isOver) lose(told);
    if (!refused) return;
    // A desk that is just being switched on refuses too, for a while.
    refusedSinceMs ??= clock.nowMs();
    if (clock.nowMs() - refusedSinceMs >= retry.timeoutMs * (retry.retries + 1)) {
      lose(refuses(transport.destination));
    }
  });

  /** Sends one message in its turn, `note` called before it leaves; false where it was stopped before. */
  const send = async (message: OscMessage, signal: AbortSignal, note?: () => void): Promise<boolean> => {
    await ownTurn(signal);
    if (signal.aborted) return false;
    const bytes = codec.encode(message);
    if (!bytes.ok) throw new RangeError(`a plan holds what cannot be sent: ${bytes.error}`);
    note?.();
    sent++;
    const handed = await transport.send(bytes.value);
    if (!handed.ok) lastFault = handed.error[0] ?? lastFault;
    return true;
  };

  /** Sends a message that writes. Noted before it leaves: what may have been written counts as written. */
  const write = (message: OscMessage, signal: AbortSignal): Promise<boolean> =>
    send(message, signal, () => {
      const [argument] = message.args;
      if (argument) written.set(message.address, argument);
    });

  const judge = (pending: Pending): void => {
    const { answer, job } = pending;
    const why = answer?.ok ? job.judge(answer.value) : (answer?.error ?? null);
    if (answer?.ok && why === null) {
      pending.result = { kind: 'held', read: answer.value };
      return;
    }
    if (answer) pending.otherwise = { read: answer.ok ? answer.value : null, why: why ?? '' };
    const failures = ++pending.failures;
    // An address is deaf only beside a desk that answers: a desk that is silent altogether is soon lost.
    const isOpen = wasSilent && failures <= 2 * (retry.retries + 1);
    if (failures <= retry.retries || (isOpen && !pending.otherwise)) return;
    pending.result = pending.otherwise ? { kind: 'otherwise', ...pending.otherwise } : { kind: 'silent' };
  };

  /** Sends some jobs' messages and waits for their answers; false where it was stopped on the way. */
  const askOnce = async (some: readonly Pending[], waitMs: number, signal: AbortSignal): Promise<boolean> => {
    const complete = new AbortController();
    const isLively = ({ question }: Pending): boolean => question.answerAddress === lively?.answerAddress;
    const probe = wasSilent && !some.some(isLively) ? lively : null;
    let missing = some.length;
    let wasHeard = false;
    if (probe !== null) inbox.expect(probe.answerAddress, () => (wasHeard = true));
    const listen = (pending: Pending): void =>
      inbox.expect(pending.question.answerAddress, (answer) => {
        if (pending.answer === null) missing--;
        pending.answer = answer;
        lively = pending.question;
        wasHeard = true;
        // A reason of its own costs nothing; the usual one is an error with a stack.
        if (missing === 0) complete.abort(null);
      });
    for (const pending of some) pending.answer = null;
    try {
      for (const pending of some) {
        const { job, question } = pending;
        const isFirst = job.first && (job.first.isAlways || pending.failures > 0);
        if (job.first && isFirst && !(await write(job.first.message, signal))) return false;
        if (job.write && !(await write(job.write, signal))) return false;
        pending.wasSent ||= job.write !== null;
        // What comes before the question is no answer to it.
        listen(pending);
        silence.ask();
        if (!(await send(question.message, signal))) return false;
      }
      if (probe !== null && !(await send(probe.message, signal))) return false;
      if (missing > 0) {
        const atMostMs = Math.min(waitMs, silence.leftMs());
        await withAnySignal([signal, complete.signal], (either) => clock.wait(atMostMs, either));
      }
      wasSilent = !wasHeard;
      if (silence.isUnknown()) {
        onSilence?.(silence.leftMs());
        isSilenceTold = true;
      }
      if (silence.leftMs() === 0) lose(lastFault ?? noAnswer());
      return !signal.aborted || missing === 0;
    } finally {
      for (const { question } of some) inbox.forget(question.answerAddress);
      if (probe !== null) inbox.forget(probe.answerAddress);
    }
  };

  const exchangeUntil = async (jobs: readonly Job[], signal: AbortSignal): Promise<readonly JobResult[]> => {
    const all = jobs.map(pendingFor);
    const askable = all.filter((each) => each !== null);
    let open: readonly Pending[] = askable;
    for (let nth = 0; open.length > 0; nth++) {
      const waitMs = answerWaitMs(retry, nth);
      for (const some of chunksOf(open, mostAtOnce)) {
        if (!(await askOnce(some, waitMs, signal))) {
          for (const pending of open) pending.result ??= stopped(pending);
          break;
        }
        for (const pending of some) judge(pending);
      }
      // What reads otherwise may only have been overtaken on the way: it gets a little time.
      const isHasty = open.some(({ result, answer }) => !result && answer !== null);
      if (isHasty) await clock.wait(waitMs / 4, signal);
      open = open.filter(({ result }) => !result);
    }
    // Whatever came, nothing of it was an answer: this is no desk that the target describes.
    if (lively === null && askable.length > 0 && !signal.aborted) lose(lastFault ?? noAnswer());
    return all.map((pending) => (pending ? (pending.result ?? stopped(pending)) : { kind: 'silent' }));
  };

  return {
    exchange: (jobs, asked) => withAnySignal([asked, ended.signal], (signal) => exchangeUntil(jobs, signal)),
    tell: (messages, asked) =>
      withAnySignal([asked, ended.signal], async (signal) => {
        let told = 0;
        for (const message of messages) {
          if (!(await write(message, signal))) break;
          told++;
        }
        return told;
      }),
    lost: () => lost,
    refusal: () => (refusedSinceMs === null ? null : refuses(transport.destination)),
    written: () => written,
    counts: () => ({ sent, ...inbox.counts() }),
  };
};
