// Pieces of configuration in README.md and docs/*.md are what the schema reads.
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { configurationFile } from '../../src/config/schema.ts';

const PAGES = ['README.md', ...readdirSync('docs').map((name) => `docs/${name}`)].filter((name) => name.endsWith('.md'));
const FRAGMENTS = PAGES.flatMap((page) =>
  [...readFileSync(page, 'utf8').matchAll(/```json\n([\s\S]*?)```/g)].map(([, text = '']) => ({ page, text: text.trim() })),
);

const WHOLE = { app: { serve: 'app' }, pages: ['/'], themes: { noon: { tone: 'light' } } };

/** A fragment is a whole configuration, some members of one, one page, a list of exemptions, or one theme. */
function readings(text: string): readonly unknown[] {
  const value = (json: string): unknown[] => {
    try {
      return [JSON.parse(json)];
    } catch {
      return [];
    }
  };
  return [
    ...value(text),
    ...value(`{${text}}`).map((members) => Object.assign({ ...WHOLE }, members)),
    ...value(text).map((page) => ({ ...WHOLE, pages: [page] })),
    ...value(text).map((exempt) => ({ ...WHOLE, exempt })),
    ...value(`{${text}}`).map((themes) => ({ ...WHOLE, themes })),
  ];
}

describe('pieces of configuration in the docs', () => {
  test('there are some', () => {
    expect(FRAGMENTS.length).toBeGreaterThan(8);
  });

  test.each(FRAGMENTS)('$page: $text', ({ text }) => {
    expect(readings(text).filter((reading) => configurationFile.safeParse(reading).success)).not.toEqual([]);
  });

  test('a member nobody reads would be found', () => {
    expect(readings('"stae": []').filter((reading) => configurationFile.safeParse(reading).success)).toEqual([]);
  });
});
