// Scripts of ./children as processes of their own: bundled once, started with Node, to be killed or waited for.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { build } from 'esbuild';

const ROOT = join(import.meta.dirname, '../..');

/** @returns path of a bundle that Node can run; what is native stays outside, so it lies where that is found */
export async function bundleChild(name: string): Promise<string> {
  const outfile = join(ROOT, 'node_modules/.cache/gloam-tests', `${name}-${String(process.pid)}.mjs`);
  await build({
    entryPoints: [join(import.meta.dirname, 'children', `${name}.ts`)],
    outfile,
    bundle: true,
    external: ['better-sqlite3', 'sharp'],
    // Packages written as CommonJS ask for Node's own modules by `require`.
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'error',
  });
  return outfile;
}

export interface Child {
  readonly process: ChildProcess;
  /** Lines it wrote to stdout so far. */
  readonly lines: readonly string[];
  /** Resolves with the first line that starts so; rejects when the process ends without. */
  line(start: string): Promise<string>;
  /** Resolves when it has ended. `code` is null after a kill. */
  readonly ended: Promise<{ readonly code: number | null; readonly stderr: string }>;
}

export function startChild(
  bundle: string,
  args: readonly string[],
  options: { readonly uid?: number; readonly shell?: string } = {},
): Child {
  const command =
    options.shell === undefined
      ? [process.execPath, bundle, ...args]
      : ['bash', '-c', options.shell, 'bash', process.execPath, bundle, ...args];
  const [file = '', ...rest] = command;
  const child = spawn(file, rest, {
    stdio: ['ignore', 'pipe', 'pipe'],
    ...(options.uid === undefined ? {} : { uid: options.uid, gid: options.uid }),
  });
  const lines: string[] = [];
  const waiting: { readonly start: string; readonly resolve: (line: string) => void; readonly reject: (error: Error) => void }[] =
    [];
  let stderr = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
  const reader = createInterface({ input: child.stdout });
  reader.on('line', (line) => {
    lines.push(line);
    for (const { start, resolve } of waiting) if (line.startsWith(start)) resolve(line);
  });
  const ended = Promise.all([once(child, 'exit'), once(reader, 'close')]).then(([[code]]) => {
    for (const { reject, start } of waiting) reject(new Error(`the process ended before it wrote "${start}": ${stderr}`));
    return { code: typeof code === 'number' ? code : null, stderr };
  });
  const line = (start: string): Promise<string> =>
    new Promise((resolve, reject) => {
      const there = lines.find((one) => one.startsWith(start));
      if (there !== undefined) resolve(there);
      else waiting.push({ start, resolve, reject });
    });
  return { process: child, lines, line, ended };
}
