// Holds a page to its place while its views are captured: sessions run out, and switches of a theme may lead elsewhere.
import type { Theme } from '../../src/plan/configuration.ts';
import type { Note } from '../../src/samples/note.ts';
import { letInBy } from '../app/access.ts';
import type { Asked } from '../app/landing.ts';
import { askedOf, landingFault } from '../app/landing.ts';
import type { Tab } from '../tab/tab.ts';
import type { SignedOut } from './signed-out.ts';
import type { Task, Visit } from './visits.ts';

export interface Whereabouts {
  /**
   * Costs nothing where the tab has not moved since, and a call where the run is signed in: an app may ask for a password in place.
   * @throws GloamError `page-landed-elsewhere`, `page-http-error`, `page-signed-out`
   */
  prove(): Promise<void>;
  /** What was done to the page may have led on: from now on it has to stay where it is. */
  stayHere(): Promise<void>;
  /** What the last proof left in doubt. */
  readonly doubt: Note | null;
}

export function openWhereabouts(
  tab: Tab,
  { page }: Pick<Visit, 'page'>,
  { view, theme }: Pick<Task, 'view' | 'theme'>,
  signedOut: SignedOut | null,
): Whereabouts {
  const url = withoutTheme(view.url, theme);
  const by = tab.entry === undefined ? {} : { by: letInBy(tab.entry) };
  let asked: Asked = { ...askedOf(page, url), ...by };
  let proved = '';
  let doubt: Note | null = null;
  let isActedOn = false;
  const here = (): string => `${String(tab.navigations)} ${tab.place}`;
  return {
    async prove() {
      if (here() !== proved) {
        const at = here();
        const fault = landingFault(asked, await tab.call('landed', null));
        if (fault !== null) throw fault;
        proved = at;
      }
      const asks = (await signedOut?.judge(tab, page, url)) ?? null;
      // What a click opens may well ask for one.
      doubt = isActedOn ? null : asks;
    },
    get doubt() {
      return doubt;
    },
    async stayHere() {
      const { href, status } = await tab.call('landed', null);
      asked = { url: href, status, ...by };
      proved = here();
      isActedOn = true;
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
