import type { Reporter, TestModule, TestRunEndReason } from 'vitest/node';

/** Closes a run with one plain line, alone: `N passed, N failed`, and `, N skipped` where there are any. */
export default class CountReporter implements Reporter {
  onTestRunEnd(
    modules: readonly TestModule[],
    unhandled: readonly unknown[],
    reason: TestRunEndReason,
  ): void {
    const count = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) count[test.result().state] += 1;
    }
    // A file that does not load, or an error outside every test, is a failure of its own.
    count.failed += modules.filter((module) => module.errors().length > 0).length;
    count.failed += unhandled.length;
    if (reason === 'failed' && count.failed === 0) count.failed = 1;
    const skipped = count.skipped + count.pending;
    process.stdout.write(
      `\n${count.passed} passed, ${count.failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}\n`,
    );
  }
}
