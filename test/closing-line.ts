import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line that any reader can count by: `N passed, N failed`. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const counts = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
    for (const module of modules) {
      // A file that could not even be loaded has no tests to count.
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) counts.failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state !== 'pending') counts[state]++;
      }
    }
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
    process.stdout.write(`\n${counts.passed} passed, ${counts.failed} failed${skipped}\n`);
  }
}
