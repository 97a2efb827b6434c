// Every case of tests/tables/tokens/format-cases.json: published rules of the Format, Color and Resolver Modules 2025.10, the
// section beside each case.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { ReadTokens } from '../../src/tokens/read-token-files.ts';
import { readTokenFiles } from '../../src/tokens/read-token-files.ts';
import { typedText } from './value-text.ts';

const Expected = z.strictObject({
  values: z.record(z.string(), z.string()).default({}),
  errors: z.record(z.string(), z.array(z.string())).default({}),
  warnings: z.record(z.string(), z.array(z.string())).default({}),
  deprecated: z.record(z.string(), z.union([z.string(), z.literal(false)])).default({}),
  absent: z.array(z.string()).default([]),
  noTokens: z.boolean().default(false),
  permutations: z.number().optional(),
});
const facts = { id: z.string(), expect: Expected, note: z.string().default(''), section: z.string() };
const Table = z.strictObject({
  about: z.array(z.string()),
  abbreviations: z.record(z.string(), z.string()),
  document: z.string(),
  files: z.array(z.strictObject({ ...facts, file: z.string() })),
  resolver: z.array(z.strictObject({ ...facts, patch: z.string(), input: z.string() })),
});

const table = Table.parse(JSON.parse(readFileSync(new URL('../tables/tokens/format-cases.json', import.meta.url), 'utf8')));

/** SAND, TEAL, PX1, DROP in a JSON text. */
function spellOut(text: string): string {
  const names = Object.keys(table.abbreviations).join('|');
  const once = text.replace(new RegExp(`\\b(${names})\\b`, 'g'), (name) => table.abbreviations[name] ?? name);
  return once === text ? text : spellOut(once);
}

/** The same in the notation of expected values. */
function spellValue(text: string): string {
  const drop = '{color: TEAL, offsetX: PX1, offsetY: PX1, blur: PX1, spread: PX1, inset: false}';
  return text
    .replaceAll('DROP+inset:false', drop)
    .replaceAll('SAND', 'srgb [0.8, 0.6, 0.4]')
    .replaceAll('TEAL', 'srgb [0, 0.4, 0.4]')
    .replaceAll('PX1', '1px');
}

/** RFC 7396. */
function mergePatch(target: unknown, patch: unknown): unknown {
  if (typeof patch !== 'object' || patch === null || Array.isArray(patch)) return patch;
  const isObject = typeof target === 'object' && target !== null && !Array.isArray(target);
  const merged = new Map<string, unknown>(isObject ? Object.entries(target) : []);
  for (const [name, value] of Object.entries(patch)) {
    if (value === null) merged.delete(name);
    else merged.set(name, mergePatch(merged.get(name), value));
  }
  return Object.fromEntries(merged);
}

/** Code → tokens, both sorted; tokens are compared only where the case names them. */
function found({ graph }: ReadTokens, level: 'error' | 'warning', wanted: Readonly<Record<string, readonly string[]>>): unknown {
  const codes = new Map<string, Set<string>>();
  for (const problem of graph.problems) {
    if (problem.level !== level) continue;
    codes.set(problem.code, (codes.get(problem.code) ?? new Set()).add(problem.token));
  }
  return Object.fromEntries(
    [...codes].map(([code, tokens]) => [code, (wanted[code] ?? []).length === 0 ? [] : [...tokens].sort()]),
  );
}

const sorted = (codes: Readonly<Record<string, readonly string[]>>): unknown =>
  Object.fromEntries(Object.entries(codes).map(([code, tokens]) => [code, [...tokens].sort()]));

function check(read: ReadTokens, wanted: z.infer<typeof Expected>): void {
  const { graph } = read;
  expect({ errors: found(read, 'error', wanted.errors), warnings: found(read, 'warning', wanted.warnings) }).toEqual({
    errors: sorted(wanted.errors),
    warnings: sorted(wanted.warnings),
  });
  for (const [path, value] of Object.entries(wanted.values)) {
    const resolution = graph.resolve(path, 'only');
    expect(resolution.kind === 'value' ? typedText(resolution.value) : resolution, path).toBe(spellValue(value));
  }
  for (const [path, deprecated] of Object.entries(wanted.deprecated)) {
    const resolution = graph.resolve(path, 'only');
    expect(resolution.kind === 'absent' ? null : resolution.deprecated, path).toBe(deprecated);
  }
  // A token that is named in an error has no value, whatever else is right.
  for (const path of new Set(Object.values(wanted.errors).flat())) {
    if (!(path in wanted.values)) expect(graph.resolve(path, 'only').kind, path).not.toBe('value');
  }
  for (const path of wanted.absent) expect(graph.resolve(path, 'only').kind, path).toBe('absent');
  if (wanted.noTokens) expect([...graph.tokens.keys()]).toEqual([]);
  if (wanted.permutations !== undefined) expect(read.permutations).toBe(wanted.permutations);
}

describe('token files', () => {
  test.each(table.files)('$id ($section) $note', ({ file, expect: wanted }) => {
    const text = spellOut(file);
    const readText = (path: string): string | null => (path === 'case.tokens.json' ? text : null);
    check(readTokenFiles({ base: ['case.tokens.json'], themes: { only: [] } }, { readText }), wanted);
  });
});

describe('resolver documents', () => {
  test.each(table.resolver)('$id ($section) $note', ({ patch, input, expect: wanted }) => {
    const document: unknown = mergePatch(JSON.parse(spellOut(table.document)), JSON.parse(spellOut(patch)));
    const readText = (path: string): string | null => (path === 'case.resolver.json' ? JSON.stringify(document) : null);
    const only = z.record(z.string(), z.unknown()).parse(JSON.parse(input));
    check(readTokenFiles({ resolver: 'case.resolver.json', themes: { only } }, { readText }), wanted);
  });
});

test('the table has all cases, each with its section', () => {
  expect(table.files.map(({ id }) => id)).toEqual(Array.from({ length: 80 }, (_, i) => `T${String(i + 1).padStart(2, '0')}`));
  expect(table.resolver.map(({ id }) => id)).toEqual(Array.from({ length: 39 }, (_, i) => `D${String(i + 1).padStart(2, '0')}`));
  expect([...table.files, ...table.resolver].filter(({ section }) => section === '')).toEqual([]);
});
