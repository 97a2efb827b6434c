// The first look at small apps that nobody configured, in the real browser; and that what is proposed renders as different themes.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { exploreApp } from '../../runner/explore/first-look.ts';
import { openApp } from '../../runner/app/open-app.ts';
import { render } from '../../runner/render.ts';
import { proposeTypeScript } from '../../src/config/propose-configuration.ts';
import { readConfiguration } from '../../src/config/read-configuration.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Tone } from '../../src/samples/view.ts';
import { APPS } from '../explore/apps.ts';
import { folderWith } from './gloam.ts';

describe.concurrent('a first look finds how an app switches its themes, and what it proposes renders them', () => {
  test.each(APPS.map((app) => [app.says, app] as const))('%s', async (_says, app) => {
    const folder = folderWith(app.files);
    const observed = await exploreApp({
      app: { kind: 'serve', folder },
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

    const text = proposeTypeScript({ observed, app: { kind: 'serve', folder: '.' }, tokens: null, typed: false });
    writeFileSync(path.join(folder, 'gloam.config.ts'), text);
    const shots = await renderFirstPage(folder);
    expect([...shots.keys()]).toEqual(Object.keys(app.themes));
    expect(new Set([...shots.values()].map((shot) => shot.toString('base64'))).size, 'pictures that differ').toBe(shots.size);
    for (const [theme, shot] of shots) expect(toneOfShot(shot), theme).toBe(app.themes[theme]?.tone);
  });
});

/** As gloam run does it, by the configuration that was written. */
async function renderFirstPage(folder: string): Promise<ReadonlyMap<string, Buffer>> {
  const configuration = await readConfiguration({ folder });
  const pages = configuration.pages.kind === 'list' ? configuration.pages.pages.slice(0, 1) : [];
  const opened = await openApp(configuration.app, AbortSignal.timeout(60_000));
  try {
    const { themes, viewports } = configuration;
    const views = makePlan({ origin: opened.origin, pages, themes, viewports: viewports.slice(0, 1) });
    const shots = new Map<string, Buffer>(themes.map(({ name }) => [name, Buffer.alloc(0)]));
    await render({ configuration, views, pages, dye: [], workers: 1, signal: AbortSignal.timeout(60_000) }, (result) => {
      if (result.status === 'failed') throw new Error(result.error);
      shots.set(result.view.theme, Buffer.from(result.shot));
    });
    return shots;
  } finally {
    await opened.close();
  }
}

/** Of the pixel in the middle of the lower edge: the apps leave it to their background. */
function toneOfShot(shot: Buffer): Tone {
  const { width, height, data } = PNG.sync.read(shot);
  const at = ((height - 2) * width + Math.floor(width / 2)) * 4;
  return (data[at + 1] ?? 0) < 128 ? 'dark' : 'light';
}
