import { closeSync, fstatSync } from 'node:fs';
import { isatty } from 'node:tty';

/**
 * Lets go of a terminal that was closed, on the way out: Node.js sets back what it may have changed of a terminal, and
 * where that fails it aborts, and the exit code is lost. Nothing can be written there afterwards, nor could before.
 */
export const letGoOfLostTerminal = (): void => {
  for (const descriptor of [0, 1, 2]) {
    try {
      // A closed terminal is still a device, and tells no longer that it is one to type at.
      if (!isatty(descriptor) && fstatSync(descriptor).isCharacterDevice()) closeSync(descriptor);
    } catch {
      // It was never open.
    }
  }
};
