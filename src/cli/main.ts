#!/usr/bin/env node
import { CommanderError } from 'commander';
import { removeUnfinished } from '../node/unfinished.js';
import { exitCodes } from './exit-code.js';
import { program } from './program.js';

/** A reader that stopped reading, as `head` does, is no failure. */
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(exitCodes.done);
  throw error;
});

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
  process.on(signal, () => {
    removeUnfinished();
    process.stderr.write('\nbandwright: interrupted; no output file was left half-written.\n');
    process.exit(exitCodes.interrupted);
  });
}

try {
  await program().parseAsync();
} catch (error) {
  removeUnfinished();
  if (!(error instanceof CommanderError)) throw error;
  process.exitCode = error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
}
