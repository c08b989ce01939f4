import { noteTerminalGone } from './terminal.js';

/** What asks a program to end: Ctrl-C, a supervisor, a terminal that is closed. */
const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Whether somebody asked for the end, who may ask again, or whoever might have is gone. */
export type InterruptCause = 'asked' | 'left-alone';

type InterruptHandler = (cause: InterruptCause) => void;

const handlers: InterruptHandler[] = [];

const interrupted = (cause: InterruptCause): void => handlers.at(-1)?.(cause);

/** A terminal that is closed says so more than once: to the program, and again through its shell. */
const onSignal = (signal: NodeJS.Signals): void => {
  if (signal === 'SIGHUP') noteTerminalGone();
  interrupted(signal === 'SIGHUP' ? 'left-alone' : 'asked');
};

/** Brings a command that has taken over from whoever was first to a safe end; tells whether there is one. */
export const endSafely = (): boolean => {
  if (handlers.length < 2) return false;
  interrupted('left-alone');
  return true;
};

/**
 * Takes over interrupts: from now on every one of them calls this handler and no other, until a later one takes
 * over or the returned function hands them back to the one before.
 */
export const onInterrupt = (handler: InterruptHandler): (() => void) => {
  // A handler given twice is two: each is handed back on its own.
  const own: InterruptHandler = (cause) => handler(cause);
  if (handlers.length === 0) for (const signal of signals) process.on(signal, onSignal);
  handlers.push(own);
  return () => {
    const at = handlers.indexOf(own);
    if (at >= 0) handlers.splice(at, 1);
    if (handlers.length === 0) for (const signal of signals) process.off(signal, onSignal);
  };
};
