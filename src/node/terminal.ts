import { closeSync } from 'node:fs';

let isGone = false;

/** Notes that the terminal was closed, as a signal or a failed reading tells. */
export const noteTerminalGone = (): void => {
  isGone = true;
};

/** Whether the terminal was closed, as far as is known. */
export const isTerminalGone = (): boolean => isGone;

/**
 * Closes what may be a terminal that is gone, on the way out. Node.js gives terminals their modes back as it ends, and takes
 * one that no longer answers for a fault of its own: it aborts.
 */
export const letGoOfTerminal = (): void => {
  for (const descriptor of [0, 1, 2]) {
    try {
      closeSync(descriptor);
    } catch {
      // It was closed before.
    }
  }
};
