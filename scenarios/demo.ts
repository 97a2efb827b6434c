// The main job on the demo app: renders the harbour screens in every theme, prints the summary, then serves the report.
// `--no-serve` ends after the summary. Needs `npm run build` and a browser; `npm run demo` sees to both.
import { spawn } from 'node:child_process';
import path from 'node:path';

/** This file runs as dist/scenarios/demo.js. */
const root = path.resolve(import.meta.dirname, '..', '..');
const config = path.join(root, 'scenarios', 'harbour', 'gloam.config.json');
const serve = !process.argv.includes('--no-serve');

/** Runs the built command line, attached to this terminal, to its exit code. Signals reach it through the terminal's process group. */
function gloam(...args: readonly string[]): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [path.join(root, 'dist', 'cli', 'main.js'), ...args, '--config', config], {
      stdio: 'inherit',
    });
    child.on('error', reject);
    child.on('exit', (code) => {
      resolve(code ?? 1);
    });
  });
}

// The child answers Ctrl-C by ending cleanly; this process waits for it.
process.on('SIGINT', () => undefined);

const code = await gloam('run');
process.exitCode = code === 0 && serve ? await gloam('serve') : code;
