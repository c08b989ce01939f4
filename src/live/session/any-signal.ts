/** A signal that is given with the first of others, and what lets go of them. */
export interface JoinedSignal {
  readonly signal: AbortSignal;
  release(): void;
}

/**
 * Joins signals for as long as some work takes. What `AbortSignal.any` makes leaves a trace in every signal it came from
 * (Node.js 20), and a watch joins some ten thousand an hour with signals that live as long as it does.
 */
export const joinSignals = (...signals: readonly AbortSignal[]): JoinedSignal => {
  const joined = new AbortController();
  const give = (): void => joined.abort();
  for (const each of signals) {
    each.addEventListener('abort', give, { once: true });
    if (each.aborted) give();
  }
  return {
    signal: joined.signal,
    release: () => {
      for (const each of signals) each.removeEventListener('abort', give);
    },
  };
};

/** Does some work with a signal that is given with the first of others. */
export const withAnySignal = async <Value>(
  signals: readonly AbortSignal[],
  work: (signal: AbortSignal) => Promise<Value>,
): Promise<Value> => {
  const { signal, release } = joinSignals(...signals);
  return work(signal).finally(release);
};
