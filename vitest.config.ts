import { defineConfig } from 'vitest/config';
import { plainImports } from './test/plain-imports.js';

/** Rooms without disk, network or clock: their tests share modules that are loaded, for they leave nothing behind. */
const pure =
  'units,quantisers,filters,guard,simulator,model,fitting,recipes,analysis,osc,exporters,layout,laws';

const pureTests = `test/{${pure}}/**/*.test.ts`;

export default defineConfig({
  plugins: [plainImports()],
  test: {
    projects: [
      { extends: true, test: { name: 'pure', include: [pureTests], isolate: false } },
      { extends: true, test: { name: 'world', include: ['test/**/*.test.ts'], exclude: [pureTests] } },
    ],
    setupFiles: ['test/repeatable-laws.ts'],
    reporters: ['default', './test/closing-line.ts'],
    // Most of the longer tests wait for programs and networks of their own.
    maxWorkers: 3,
    // Tests that say so run side by side: they wait for a network most of the time.
    maxConcurrency: 10,
    // None of this is a race: a machine that is busy otherwise may take several times as long.
    testTimeout: 240_000,
    hookTimeout: 240_000,
  },
});
