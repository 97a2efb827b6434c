// npm test: the tests, and beside them the linter and the fences, which keep one core busy for minutes. What
// they find comes after the tests. Ends with 1 where any of them failed.
import { spawn } from 'node:child_process';

/** @returns {Promise<{ code: number, said: string }>} what it printed, unless it prints for itself */
const ended = (name, args, stdio) =>
  new Promise((resolve) => {
    const child = spawn(name, args, { stdio, shell: process.platform === 'win32' });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) stream?.on('data', (data) => (said += String(data)));
    child.on('error', (error) => resolve({ code: 1, said: error.message }));
    child.on('exit', (code) => resolve({ code: code ?? 1, said }));
  });

const checks = ['lint', 'fences'].map(async (script) => {
  const { code, said } = await ended('npm', ['run', '--silent', script], ['ignore', 'pipe', 'pipe']);
  return { script, code, said };
});
const tests = await ended('npx', ['vitest', 'run', ...process.argv.slice(2)], 'inherit');
const failed = (await Promise.all(checks)).filter(({ code }) => code !== 0);
for (const { script, said } of failed) process.stdout.write(`\nnpm run ${script} failed:\n${said}\n`);
process.exitCode = tests.code !== 0 || failed.length > 0 ? 1 : 0;
