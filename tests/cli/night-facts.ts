// A night of an app in a folder, and what it left in the store, for tests that hold nights against one another.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { gloam } from './gloam.ts';

interface Outcome {
  readonly unchanged: number;
  readonly run: { readonly totals: unknown };
}

export async function night(folder: string, ...more: readonly string[]): Promise<Outcome> {
  const { code, stdout, stderr } = await gloam(folder, 'run', '--json', ...more);
  expect(stderr).not.toContain('fault');
  expect(code).toBe(0);
  return JSON.parse(stdout) as Outcome;
}

/** Samples and causes of the newest run, without what names the run. */
export async function facts(folder: string): Promise<Readonly<Record<string, readonly string[]>>> {
  expect((await gloam(folder, 'export', 'out', '--samples')).code).toBe(0);
  const lines = (name: string): readonly string[] =>
    readFileSync(path.join(folder, 'out', name), 'utf8')
      .split('\n')
      .filter((line) => line !== '');
  return { samples: lines('samples.ndjson'), causes: lines('causes.ndjson') };
}
