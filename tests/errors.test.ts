// The catalogue of errors and docs/errors.md name the same codes, and no error is made anywhere else.
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

const root = path.resolve(import.meta.dirname, '..');
const catalogue = path.join(root, 'src', 'errors');
const textOf = (folder: string): string =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => readFileSync(path.join(folder, name), 'utf8'))
    .join('\n');

test('docs/errors.md lists every code, and only those', () => {
  const codes = [...textOf(catalogue).matchAll(/code: '([a-z-]+)'/g)].map((match) => match[1]);
  const told = [...readFileSync(path.join(root, 'docs', 'errors.md'), 'utf8').matchAll(/^\| `([a-z-]+)` \|/gm)].map(
    (match) => match[1],
  );
  expect(codes.length).toBeGreaterThan(30);
  expect(told).toEqual([...new Set(codes)].sort());
});

test('errors are made in the catalogue alone', () => {
  const made = (folder: string): number => textOf(folder).split('new GloamError(').length - 1;
  const all = ['src', 'runner', 'report-ui'].map((part) => made(path.join(root, part)));
  expect(all).toEqual([made(catalogue), 0, 0]);
});
