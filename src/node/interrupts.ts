/** What asks a program to end: Ctrl-C, a supervisor, a terminal that is closed. */
const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

type InterruptHandler = () => void;

const handlers: InterruptHandler[] = [];

const interrupted = (): void => handlers.at(-1)?.();

/** Interrupts a command that has taken over from whoever was first; tells whether there is one. */
export const interruptNow = (): boolean => {
  if (handlers.length < 2) return false;
  interrupted();
  return true;
};

/**
 * Takes over interrupts: from now on every one of them calls this handler and no other, until a later one takes
 * over or the returned function hands them back to the one before.
 */
export const onInterrupt = (handler: InterruptHandler): (() => void) => {
  // A handler given twice is two: each is handed back on its own.
  const own = () => handler();
  if (handlers.length === 0) for (const signal of signals) process.on(signal, interrupted);
  handlers.push(own);
  return () => {
    const at = handlers.indexOf(own);
    if (at >= 0) handlers.splice(at, 1);
    if (handlers.length === 0) for (const signal of signals) process.off(signal, interrupted);
  };
};
