// What is known of a run before any machine works on it: its pages, its views, and what this machine is like.
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import type { FoundBrowser } from '../../../runner/browser/find-browser.ts';
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { makePlan } from '../../plan/make-plan.ts';
import type { View } from '../../samples/view.ts';
import type { readAccess } from '../read-access.ts';
import { readMachineFacts } from './machine-facts.ts';
import type { MachineFacts } from './machine-facts.ts';

export interface PlannedShared {
  readonly pages: readonly Page[];
  readonly plan: readonly View[];
  readonly machine: MachineFacts;
}

/** The app is closed again: a worker of this machine may have to serve it at the same address. */
export async function planShared(
  { configuration, signal }: { readonly configuration: Configuration; readonly signal: AbortSignal },
  from: {
    readonly found: FoundBrowser;
    readonly tokens: ReadConfigured | null;
    readonly accessAt: Awaited<ReturnType<typeof readAccess>>;
  },
): Promise<PlannedShared> {
  const { themes, viewports } = configuration;
  await using browser = browserAhead(from.found);
  const app = await openApp(configuration.app, signal);
  try {
    const toFollow = configuration.pages.kind === 'follow' ? await browser.ready() : undefined;
    const pages = await discoverPages(configuration.pages, app.origin, signal, from.accessAt(app.origin), toFollow);
    const machine = await readMachineFacts(configuration, {
      browser: await browser.ready(),
      browserVersion: from.found.version,
      tokenFiles: from.tokens?.files ?? [],
    });
    return { pages, plan: makePlan({ origin: app.origin, pages, themes, viewports }), machine };
  } finally {
    await app.close();
  }
}
