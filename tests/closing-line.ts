// Ends the output of the suite with one plain line of counts, which continuous integration reads.
import type { Reporter, TestModule } from 'vitest/node';

class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandled.length;
    let skipped = 0;
    for (const module of modules) {
      if (module.state() === 'failed' && [...module.children.allTests('failed')].length === 0) failed += 1;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        else if (state === 'failed') failed += 1;
        else skipped += 1;
      }
    }
    const tail = skipped > 0 ? `, ${String(skipped)} skipped` : '';
    process.stdout.write(`\n${String(passed)} passed, ${String(failed)} failed${tail}\n`);
  }
}

// eslint-disable-next-line no-restricted-syntax -- a reporter is loaded by its default export
export default ClosingLine;
