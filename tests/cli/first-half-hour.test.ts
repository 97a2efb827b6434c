// docs/first-half-hour.md as it stands: its files are written, its commands run in order, and what it says is printed is printed.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderWith, start } from './gloam.ts';

const TEXT = readFileSync(path.resolve(import.meta.dirname, '../../docs/first-half-hour.md'), 'utf8');
const PORT = '47615';

const sections = TEXT.split(/^## /m)
  .slice(1)
  .map((section) => ({ title: section.split('\n')[0] ?? '', text: section }));

/** In the order of the page: a file that is written, commands that are run, or words that the last of them printed. */
function steps(section: string): readonly { readonly kind: string; readonly file: string | undefined; readonly text: string }[] {
  return [...section.matchAll(/(?:^`([^`\n]+)`:\n\n)?^```(\w+)\n([\s\S]*?)^```$/gm)].map(([, file, kind = '', text = '']) => ({
    kind,
    file,
    text,
  }));
}

async function freePort(): Promise<string> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return address === null || typeof address === 'string' ? PORT : String(address.port);
}

describe.concurrent('the first half hour', () => {
  test('three kinds of app', () => {
    expect(sections.map(({ title }) => title)).toEqual([
      'A static folder',
      'Client-side routes with a build',
      'An app behind a sign-in',
    ]);
  });

  test.each(sections)('$title', async ({ text }) => {
    const folder = folderWith({});
    const port = await freePort();
    const env: Record<string, string> = {};
    let printed = '';
    for (const step of steps(text)) {
      const body = step.text.replaceAll(PORT, port);
      if (step.file !== undefined) {
        mkdirSync(path.dirname(path.join(folder, step.file)), { recursive: true });
        writeFileSync(path.join(folder, step.file), body);
      } else if (step.kind === 'sh') {
        for (const line of body.trim().split('\n')) {
          const [program = '', ...args] = line.split(' ');
          const variable = /^export (\w+)=(.*)$/.exec(line);
          if (variable !== null) env[variable[1] ?? ''] = variable[2] ?? '';
          else if (program === 'node') execFileSync(process.execPath, args, { cwd: folder });
          else {
            expect(program).toBe('gloam');
            const { code, stdout, stderr } = await start(folder, args, env).ended;
            expect([0, 1], `${line}\n${stdout}${stderr}`).toContain(code);
            printed = stdout;
          }
        }
      } else if (step.kind === 'text') {
        for (const line of body.trim().split('\n')) expect(printed).toContain(line);
      }
    }
    expect(printed).toContain('dusk may launch');
  });
});
