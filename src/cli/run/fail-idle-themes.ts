// A theme that changed no colour on any page: its views are not what they say, so they count as not captured, with the reason.
import type { Browser } from 'playwright';
import type { Access } from '../../../runner/app/access.ts';
import { themeAnswers } from '../../../runner/app/theme-answers.ts';
import type { ThemeAnswers } from '../../../runner/app/theme-answers.ts';
import { themeWithoutEffect } from '../../errors/capture-errors.ts';
import { GloamError } from '../../errors/gloam-error.ts';
import type { RunWriter } from '../../ledger/ports.ts';
import type { Theme } from '../../plan/configuration.ts';
import type { FailedView } from '../../samples/captured-view.ts';
import type { View } from '../../samples/view.ts';
import type { IdleTheme } from './theme-effects.ts';
import { whyNoEffect } from './why-no-effect.ts';

/** @param views those that were captured @returns what they are stored as instead */
export async function failIdleThemes(from: {
  readonly idle: readonly IdleTheme[];
  readonly views: readonly View[];
  readonly reference: string;
  readonly ledger: RunWriter;
  readonly run: string;
  readonly browser: Browser;
  readonly access: Access | undefined;
  readonly signal: AbortSignal;
}): Promise<readonly FailedView[]> {
  const { idle, ledger, run, reference } = from;
  const failed: FailedView[] = [];
  for (const { theme, pages } of idle) {
    const views = from.views.filter((view) => view.theme === theme.name);
    const why = whyNoEffect(theme.apply, await answersIn(views[0], theme, from));
    const { code, message } = themeWithoutEffect(theme.name, { reference, pages, why });
    for (const view of views) {
      const result: FailedView = { view, status: 'failed', ms: 0, code, error: message };
      await ledger.storeView(run, result);
      failed.push(result);
    }
    await ledger.storeFindings(
      run,
      views.map((view) => ({ view, findings: [] })),
    );
  }
  return failed;
}

/** Null where the app cannot be asked any more: then less is said. */
async function answersIn(
  view: View | undefined,
  { apply }: Theme,
  { browser, access, signal }: Pick<Parameters<typeof failIdleThemes>[0], 'browser' | 'access' | 'signal'>,
): Promise<ThemeAnswers | null> {
  if (view === undefined) return null;
  const entry = access === undefined ? undefined : { access, state: access.states[0] ?? null };
  try {
    return await themeAnswers(browser, { url: view.url, apply, entry, signal });
  } catch (error) {
    if (error instanceof GloamError) return null;
    throw error;
  }
}
