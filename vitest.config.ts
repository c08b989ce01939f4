import { defineConfig } from 'vitest/config';
import { LongestFirst } from './test/longest-first.js';
import { plainImports } from './test/plain-imports.js';

export default defineConfig({
  plugins: [plainImports()],
  test: {
    // Files share loaded modules: loading them anew took longer than most tests.
    isolate: false,
    globalSetup: ['test/browser/installed.ts'],
    setupFiles: ['test/repeatable-laws.ts'],
    sequence: { sequencer: LongestFirst },
    reporters: ['default', './test/closing-line.ts'],
    // Much is made and thrown away at once: with more room for that, about 7 % less is to be done.
    execArgv: ['--max-semi-space-size=64'],
    // Most of the longer tests wait for programs and networks of their own.
    maxWorkers: 5,
    // Tests that say so run side by side: they wait for a network most of the time.
    maxConcurrency: 10,
    // None of this is a race: a machine that is busy otherwise may take several times as long.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    expect: { poll: { timeout: 60_000 } },
  },
});
