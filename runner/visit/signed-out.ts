// Tells a sign-in that an app shows in place of its pages, at their own addresses, from pages that are meant to ask for a password: by what
// other pages show with the same session, and what this one shows to a stranger.
import { pageSignedOut } from '../../src/errors/sign-in-errors.ts';
import type { Page } from '../../src/plan/configuration.ts';
import { pagePath } from '../../src/plan/page-path.ts';
import type { Note } from '../../src/samples/note.ts';
import { letInBy } from '../app/access.ts';
import type { Entry } from '../app/access.ts';
import { askedOf, isPlace } from '../app/landing.ts';
import type { WireContent, WireLanded } from '../page/wire/wire.ts';
import { settleAfterLoad } from '../theme/settle.ts';
import type { Tab } from '../tab/tab.ts';

/** Ours: one may be public, one a page that looks like this one, one may fail. */
const MOST_OTHERS = 4;

export interface SignedOut {
  /**
   * Costs one call where no field for a password is seen, and a few loads where one is that was not seen on this page before.
   * @returns what is to be said of a page that only probably is what was asked; null where nothing speaks against it
   * @throws GloamError `page-signed-out`
   */
  judge(tab: Tab, page: Page, url: string): Promise<Note | null>;
}

/** What one load of a page came to. */
interface Look {
  readonly content: WireContent;
  readonly isThere: boolean;
}

type Verdict = { readonly is: 'meant' | 'doubtful' } | { readonly is: 'out'; readonly other: string };

/** @param pages of the run @param entry the session that is judged */
export function openSignedOut(entry: Entry, pages: readonly Page[]): SignedOut {
  const known = new Map<string, Verdict>();
  const outTexts = new Map<string, string>();
  return {
    async judge(tab, page, url) {
      // The configuration says that it leads to where this is asked.
      if (page.lands !== undefined) return null;
      const content = await tab.call('shownContent', { whatever: false });
      if (content === null) return null;
      const key = JSON.stringify([page.name, content.text]);
      let verdict = known.get(key);
      const before = outTexts.get(content.text);
      if (before !== undefined && before !== url) verdict = { is: 'out', other: before };
      if (verdict === undefined) {
        const looks = openLooks(tab, { entry, page, url, pages });
        verdict = await verdictOf(content, looks).finally(() => looks.close());
        // These loads are no part of the view's time.
        tab.beginView();
      }
      known.set(key, verdict);
      if (verdict.is === 'out') {
        if (before === undefined) outTexts.set(content.text, url);
        const { title, heading } = await tab.call('landed', null);
        throw pageSignedOut(url, { title, heading, other: verdict.other, by: letInBy(entry) });
      }
      return verdict.is === 'doubtful' ? { code: 'asks-password', data: {} } : null;
    },
  };
}

interface Looks {
  /** Of other pages, with the same session. */
  readonly others: readonly {
    readonly url: string;
    readonly signedIn: () => Promise<Look | null>;
    readonly stranger: () => Promise<Look | null>;
  }[];
  /** Of this page, without it. */
  readonly stranger: () => Promise<Look | null>;
}

/**
 * The same form in place of the content of two pages is the app's, not theirs, unless the session is seen to hold on a third one. A lone
 * form that asks for an existing password may be a page of its own: it is where strangers see it too, and others do not.
 */
async function verdictOf(content: WireContent, { others, stranger }: Looks): Promise<Verdict> {
  const isLikely = content.isAll && content.passwords === 1 && !content.asksForNew;
  let same: string | null = null;
  const open: (typeof others)[number][] = [];
  const seen = new Map<string, string>();
  for (const other of others) {
    const look = await other.signedIn();
    if (look?.isThere !== true) continue;
    if (look.content.passwords === 0) {
      open.push(other);
      seen.set(other.url, look.content.text);
    } else if (look.content.text === content.text) same ??= other.url;
  }
  if (same === null && !isLikely) return { is: 'meant' };
  let holds = false;
  for (const other of open) {
    const look = await other.stranger();
    holds = look !== null && (!look.isThere || look.content.text !== seen.get(other.url));
    if (holds) break;
  }
  if (same !== null && !holds) return { is: 'out', other: same };
  if (!isLikely) return { is: 'meant' };
  const shown = holds ? await stranger() : null;
  return { is: shown?.isThere === true && shown.content.text === content.text ? 'meant' : 'doubtful' };
}

interface Around {
  readonly entry: Entry;
  readonly page: Page;
  readonly url: string;
  readonly pages: readonly Page[];
}

/** In tabs of their own: this one keeps the page as it is. */
function openLooks(tab: Tab, { entry, page, url, pages }: Around): Looks & { close(): Promise<void> } {
  const tabs: Promise<Tab>[] = [];
  const opened = (as: Entry | null): (() => Promise<Tab>) => {
    let own: Promise<Tab> | null = null;
    return () => {
      if (own === null) {
        own = tab.beside(as);
        tabs.push(own);
      }
      return own;
    };
  };
  const tabOf = { signedIn: opened(entry), stranger: opened(null) };
  const lookAs = async (who: keyof typeof tabOf, asked: Page, at: string): Promise<Look | null> => {
    try {
      const own = await tabOf[who]();
      own.beginView();
      await own.goto(at, asked.status);
      await settleAfterLoad(own);
      const landed: WireLanded = await own.call('landed', null);
      const content = await own.call('shownContent', { whatever: true });
      return content === null ? null : { content, isThere: isPlace(askedOf(asked, at).url, landed) };
    } catch {
      tab.signal.throwIfAborted();
      return null;
    }
  };
  const origin = url.slice(0, url.length - page.path.length);
  return {
    others: othersOf(page, pages).map((other) => {
      const at = origin + other.path;
      return { url: at, signedIn: () => lookAs('signedIn', other, at), stranger: () => lookAs('stranger', other, at) };
    }),
    stranger: () => lookAs('stranger', page, url),
    async close() {
      await Promise.all(tabs.map((own) => own.then((each) => each.close()).catch(() => undefined)));
    },
  };
}

const ROOT: Page = { name: 'home', path: '/', states: [] };

/** Pages of other addresses: the same with another query may well ask for the same. */
function othersOf(page: Page, pages: readonly Page[]): readonly Page[] {
  const pathOf = ({ path }: Page): string => (/#!?\//u.test(path) ? path : pagePath(path.split(/[?#]/u)[0] ?? path));
  const known = new Set([pathOf(page)]);
  return [...pages, ROOT]
    .filter((other) => {
      if (other.lands !== undefined || other.status !== undefined || known.has(pathOf(other))) return false;
      known.add(pathOf(other));
      return true;
    })
    .slice(0, MOST_OTHERS);
}
