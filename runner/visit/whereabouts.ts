// Holds a page to its place while its views are captured: sessions run out, and switches of a theme may lead elsewhere.
import type { Theme } from '../../src/plan/configuration.ts';
import type { Asked } from '../app/landing.ts';
import { askedOf, landingFault } from '../app/landing.ts';
import type { Tab } from '../tab/tab.ts';
import type { Task, Visit } from './visits.ts';

export interface Whereabouts {
  /** Costs nothing where the tab has not moved since. @throws GloamError `page-landed-elsewhere`, `page-http-error` */
  prove(): Promise<void>;
  /** What was done to the page may have led on: from now on it has to stay where it is. */
  stayHere(): Promise<void>;
}

export function openWhereabouts(
  tab: Tab,
  { page }: Pick<Visit, 'page'>,
  { view, theme }: Pick<Task, 'view' | 'theme'>,
): Whereabouts {
  let asked: Asked = askedOf(page, withoutTheme(view.url, theme));
  let proved = '';
  const here = (): string => `${String(tab.navigations)} ${tab.place}`;
  return {
    async prove() {
      if (here() === proved) return;
      const at = here();
      const fault = landingFault(asked, await tab.call('landed', null));
      if (fault !== null) throw fault;
      proved = at;
    },
    async stayHere() {
      const { href, status } = await tab.call('landed', null);
      asked = { url: href, status };
      proved = here();
    },
  };
}

/** What a theme says in the query, scripts may change as they like. */
function withoutTheme(url: string, { apply: { query } }: Theme): string {
  if (query === undefined || !URL.canParse(url)) return url;
  const plain = new URL(url);
  for (const name of Object.keys(query)) plain.searchParams.delete(name);
  return plain.href;
}
