// How the pages of an app are come by: headers, cookies and a sign-in, with the values in them. Lives in memory, never in the store.
import type { BrowserContext, Page } from 'playwright';
import type { LetInBy } from '../../src/errors/sign-in-errors.ts';
import type { Secrets } from './secrets.ts';

/** What a sign-in leaves behind: cookies, local storage, IndexedDB. */
export type SignedIn = Awaited<ReturnType<BrowserContext['storageState']>>;

/** What the user's script gets. */
export interface SignInGiven {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Values of the variables that the configuration names under `session.env`. */
  readonly env: Readonly<Record<string, string>>;
  /** Start of every address of the app, without a slash at the end. */
  readonly origin: string;
}

export interface SignIn {
  /** The user's file, for messages. */
  readonly file: string;
  readonly run: (given: SignInGiven) => unknown;
  readonly env: Readonly<Record<string, string>>;
  readonly withinMs: number;
}

export interface Access {
  readonly origin: string;
  readonly secrets: Secrets;
  /** Sent to the app's origin alone. */
  readonly headers: Readonly<Record<string, string>>;
  readonly cookies: Readonly<Record<string, string>>;
  readonly signIn: SignIn | null;
  /** States of sign-ins so far, a worker each; reused by whoever renders again. */
  readonly states: SignedIn[];
}

/** What one tab needs of it. */
export interface Entry {
  readonly access: Access;
  readonly state: SignedIn | null;
}

export function letInBy({ state }: Entry): LetInBy {
  return state === null ? 'headers' : 'session';
}

/** Whatever a page did to them: as they were after the sign-in. */
export function cookiesOf({ access, state }: Entry): Parameters<BrowserContext['addCookies']>[0] {
  const { origin } = new URL(access.origin);
  const own = Object.entries(access.cookies).map(([name, value]) => ({ name, value, url: origin }));
  return [...(state?.cookies ?? []), ...own];
}

/** Storage can only be put back into a context of its own. */
export function leavesStorage(entry: Entry | undefined): boolean {
  return (entry?.state?.origins.length ?? 0) > 0;
}
