// The demo app: planted faults of how things look are found, the designed themes are silent elsewhere, the naive theme shows what
// naive inversion does (glowing shadows, inverted photos, flipped menus: common practice).
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import { render } from '../../../runner/render.ts';
import type { JudgedView } from '../../../src/checks/run-checks.ts';
import { runChecks } from '../../../src/checks/run-checks.ts';
import { readConfiguration } from '../../../src/config/read-configuration.ts';
import { groupId, makePlan } from '../../../src/plan/make-plan.ts';
import type { Finding } from '../../../src/samples/finding.ts';
import type { View } from '../../../src/samples/view.ts';
import { captured } from '../session/harness.ts';

const HARBOUR = new URL('../../../scenarios/harbour/', import.meta.url);
const LOOKS = ['graphic-contrast', 'neon', 'glow', 'flipped', 'unthemed', 'separation', 'inverted-picture'];

const faultsFile = z.array(
  z.object({
    id: z.string(),
    kind: z.string(),
    pages: z.array(z.string()),
    themes: z.array(z.string()),
    state: z.string(),
    selector: z.string().nullable(),
  }),
);
const faults = faultsFile
  .parse(JSON.parse(await readFile(new URL('faults.json', HARBOUR), 'utf8')))
  .filter((fault) => LOOKS.includes(fault.kind));
/** The designed pair at rest throughout; states, and the naive theme, only where something is planted. */
const THEMES = ['noon', 'dusk', 'flip'];

let findings: readonly (Finding & { readonly path: string })[] = [];

beforeAll(async () => {
  const folder = fileURLToPath(HARBOUR);
  const configuration = await readConfiguration({ folder });
  const signal = new AbortController().signal;
  const app = await openApp(configuration.app, signal);
  try {
    const pages = await discoverPages(configuration.pages, app.origin, signal);
    const paths = new Map(pages.map((page) => [page.name, page.path]));
    const themes = configuration.themes.filter((theme) => THEMES.includes(theme.name));
    const plan = makePlan({ origin: app.origin, pages, themes, viewports: configuration.viewports });
    const faulty = ({ page, state, theme }: View): boolean =>
      faults.some(
        (f) => f.state === state && f.pages.includes(paths.get(page) ?? '') && (theme === 'noon' || f.themes.includes(theme)),
      );
    const views = plan
      .filter((view) => (view.state === 'rest' && view.theme !== 'flip') || faulty(view))
      .filter((view) => view.theme !== 'flip' || view.state === 'rest');
    const groups = new Map<string, JudgedView[]>();
    await render({ configuration, views, pages, dye: [], workers: 2, signal }, (result) => {
      const { view, samples } = captured(result);
      const tone = themes.find((theme) => theme.name === view.theme)?.tone ?? 'light';
      groups.set(groupId(view), [...(groups.get(groupId(view)) ?? []), { view, samples, tone }]);
    });
    const { reference, checks, exempt } = configuration;
    findings = [...groups.values()].flatMap((group) =>
      runChecks(group, { reference, checks, exempt, today: '2031-05-04', run: 'test' }).map((finding) => ({
        ...finding,
        path: paths.get(finding.page) ?? '',
      })),
    );
  } finally {
    await app.close();
  }
}, 240_000);

describe('the harbour screens', () => {
  const expected = faults.flatMap((fault) =>
    fault.themes
      .filter((theme) => THEMES.includes(theme) && (theme !== 'flip' || fault.state === 'rest'))
      .flatMap((theme) => fault.pages.map((page) => [fault.id, theme, page, fault] as const)),
  );
  test.each(expected)('%s is found in %s on %s', (_, theme, page, { kind, state }) => {
    const found = findings.filter((f) => f.check === kind && f.theme === theme && f.path === page && f.state === state);
    expect(found.length).toBeGreaterThan(0);
  });

  const named = faults.filter(
    (fault) => fault.themes.some((theme) => THEMES.includes(theme)) && /^#[\w-]+$/.test(fault.selector ?? ''),
  );
  test.each(named.map((fault) => [fault.id, fault.selector, fault] as const))(
    '%s is found at %s itself',
    (_, selector, { kind, state }) => {
      const at = findings.filter((f) => f.check === kind && f.state === state).map((f) => f.selector);
      expect(at).toContain(selector);
    },
  );

  test.each(['noon', 'dusk'])('nothing else is found in %s', (theme) => {
    const planted = (f: (typeof findings)[number]): boolean =>
      faults.some((fault) => fault.kind === f.check && fault.themes.includes(theme) && fault.pages.includes(f.path));
    const others = findings.filter((f) => f.theme === theme && LOOKS.includes(f.check) && f.status !== 'exempt' && !planted(f));
    expect(others.map((f) => `${f.page} ${f.state}: ${f.message}`)).toEqual([]);
  });

  test('the naive theme has glows, inverted pictures and flipped surfaces', () => {
    const kinds = new Set(findings.filter((f) => f.theme === 'flip').map((f) => f.check));
    for (const kind of ['glow', 'inverted-picture', 'flipped'] as const) expect(kinds).toContain(kind);
  });
});
