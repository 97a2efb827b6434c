// The configuration as the checks want it.
import type { CheckSettings } from '../../checks/run-checks.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { pageOwner } from '../../plan/page-owner.ts';
import type { Tone, ViewRef } from '../../samples/view.ts';

/** @param view of the group that is judged: tells the page's owner */
export function checkSettings(
  from: { readonly configuration: Configuration; readonly pages: readonly Page[]; readonly today: string; readonly run: string },
  view: ViewRef | undefined,
): CheckSettings {
  const { configuration, pages, today, run } = from;
  const page = pages.find((candidate) => candidate.name === view?.page);
  const owner = page === undefined ? undefined : pageOwner(page, configuration.owners);
  const { reference, checks, exempt } = configuration;
  return { reference, checks, exempt, today, run, ...(owner === undefined ? {} : { pageOwner: owner }) };
}

export function toneOf(configuration: Configuration, theme: string): Tone {
  return configuration.themes.find(({ name }) => name === theme)?.tone ?? 'light';
}
