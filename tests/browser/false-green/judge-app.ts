// A tiny app with its configuration → what run and gate say of it, by the real parts in one process: plan, browser, checks, store, gate.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright';
import { openSecrets } from '../../../runner/app/secrets.ts';
import type { RunOutcome } from '../../../src/cli/run/execute-run.ts';
import { executeRun } from '../../../src/cli/run/execute-run.ts';
import type { Io } from '../../../src/cli/io.ts';
import { validateConfiguration } from '../../../src/config/read-configuration.ts';
import { judgeRun } from '../../../src/gate/judge-run.ts';
import type { GateVerdict } from '../../../src/gate/verdict.ts';
import { openLedger } from '../../../src/ledger/ledger.ts';
import type { Answer } from '../session/harness.ts';
import { serve } from '../session/harness.ts';

export interface App {
  /** What it is, as the name of a test. */
  readonly says: string;
  /** Answers by path. Made anew for each run, so that servers may count. */
  readonly pages: () => Readonly<Record<string, Answer>>;
  /** Members of the configuration besides `app`; pages are all that are served, in their order, unless set. */
  readonly config?: Readonly<Record<string, unknown>>;
  /** Files beside the configuration. */
  readonly files?: Readonly<Record<string, string>>;
  /** Served on the night before, where that was another. */
  readonly before?: () => Readonly<Record<string, Answer>>;
}

export interface Judged {
  readonly outcome: RunOutcome;
  readonly verdicts: readonly GateVerdict[];
  /** Run and gate have nothing against it: exit codes 0 and 0. */
  readonly passes: boolean;
  /** Everything that was said against it. */
  readonly said: string;
}

const SILENT: Io = {
  json: false,
  live: false,
  color: false,
  columns: 100,
  print: () => undefined,
  redraw: () => undefined,
  say: () => undefined,
  note: () => undefined,
  result: () => undefined,
  style: (_style, text) => text,
};

/** Noon and dusk, by an attribute that the style below answers to. */
export const THEMES = {
  noon: { tone: 'light' },
  dusk: { tone: 'dark', apply: { attribute: { name: 'data-mode', value: 'dusk' } } },
};

const STYLE = `html{background:var(--paper);color:var(--ink);--paper:#fff;--ink:#111;font:16px sans-serif}
  html[data-mode=dusk]{--paper:#101418;--ink:#eee}`;

/** A page of the quay; without `style` it is one that no theme reaches. */
export const quay = (body: string, style = STYLE, head = ''): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Quay</title><style>${style}</style>${head}</head><body>${body}</body></html>`;

export const themed = (more = ''): string => STYLE + more;

export async function judgeApp(browser: Browser, app: App): Promise<Judged> {
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-green-'));
  const answers: Record<string, Answer> = {};
  const harbour = await serve(answers);
  try {
    for (const [name, text] of Object.entries(app.files ?? {})) await writeFile(path.join(folder, name), text);
    const nights = app.before === undefined ? [app.pages] : [app.before, app.pages];
    let judged: Judged | null = null;
    for (const pages of nights) {
      for (const name of Object.keys(answers)) Reflect.deleteProperty(answers, name);
      Object.assign(answers, pages());
      judged = await night(browser, { folder, origin: harbour.origin, app, paths: Object.keys(answers) });
    }
    if (judged === null) throw new Error('no night was run');
    return judged;
  } finally {
    await harbour.close();
    await rm(folder, { recursive: true, force: true });
  }
}

interface Night {
  readonly folder: string;
  readonly origin: string;
  readonly app: App;
  readonly paths: readonly string[];
}

async function night(browser: Browser, { folder, origin, app, paths }: Night): Promise<Judged> {
  const configuration = validateConfiguration(path.join(folder, 'gloam.config.json'), {
    app: { url: origin },
    pages: paths.filter((name) => !name.startsWith('/-')),
    themes: THEMES,
    viewports: { desk: [600, 400] },
    ...app.config,
  });
  const store = path.join(folder, '.gloam');
  const { signal } = new AbortController();
  const outcome = await executeRun({
    configuration,
    store,
    selection: {},
    sets: ['main'],
    workers: 1,
    resume: false,
    anew: false,
    env: process.env,
    secrets: openSecrets(),
    signal,
    now: () => new Date(),
    io: SILENT,
    browser,
  });
  await using ledger = await openLedger(store, { access: 'read' });
  const verdicts = await judgeRun(ledger, configuration, {
    run: outcome.run,
    themes: configuration.themes.map(({ name }) => name),
    today: new Date().toISOString().slice(0, 10),
  });
  const missing = verdicts.flatMap((verdict) => verdict.criteria.filter((criterion) => !criterion.met));
  const passes = outcome.failed.length === 0 && missing.length === 0;
  const found = passes ? [] : verdicts.flatMap(({ findings }) => findings);
  return {
    outcome,
    verdicts,
    passes,
    said: [
      ...found.map(({ view, check, message }) => `${view}: ${check}: ${message}`),
      ...outcome.failed.map(({ view, error }) => `${view.id}: ${error}`),
      ...missing.flatMap(({ name, found, links }) => [`${name}: ${found}`, ...links.map(({ label }) => label)]),
    ].join('\n'),
  };
}
