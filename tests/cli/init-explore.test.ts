// The first look at small apps that nobody configured, in the real browser.
import { describe, expect, test } from 'vitest';
import { exploreApp } from '../../runner/explore.ts';
import { APPS } from '../explore/apps.ts';
import { folderWith } from './gloam.ts';

describe('a first look finds how an app switches its themes', () => {
  test.each(APPS.map((app) => [app.says, app] as const))('%s', async (_says, app) => {
    const observed = await exploreApp({
      app: { kind: 'serve', folder: folderWith(app.files) },
      start: '/',
      limit: 20,
      withinMs: 90_000,
      signal: AbortSignal.timeout(110_000),
      onStep: () => undefined,
    });
    const found = Object.fromEntries(observed.themes.map(({ name, tone, apply }) => [name, { tone, apply }]));
    expect(found).toEqual(app.themes);
    const paths = Object.keys(app.files).filter((name) => name.endsWith('.html'));
    expect(observed.pages.map((page) => page.path).sort()).toEqual(
      paths.map((name) => (name === 'index.html' ? '/' : `/${name}`)).sort(),
    );
  });
});
