// The user's sign-in script is run once for each worker, in a context of its own; what it leaves behind is kept in memory.
import path from 'node:path';
import type { Browser, Page } from 'playwright';
import { sessionFailed } from '../../src/errors/sign-in-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { ViewResult } from '../../src/samples/captured-view.ts';
import { cookiesOf } from './access.ts';
import type { Access, Entry, SignIn, SignedIn } from './access.ts';
import { whereItStood } from './where-it-stood.ts';
import { openChromiumPage } from '../driver/chromium/chromium-page.ts';

/** Shorter texts are words (`dusk`, `en`), which also stand where nothing is secret; ours: session ids have 16 characters and more. */
const LEAST_SECRET = 16;

/**
 * @returns an entry for each worker whose sign-in went well
 * @throws GloamError `session-failed` where none did; the reason of an abort
 */
export async function openEntries(
  browser: Browser,
  access: Access | undefined,
  { workers, signal }: { readonly workers: number; readonly signal: AbortSignal },
): Promise<readonly (Entry | undefined)[]> {
  if (access === undefined) return Array.from({ length: workers }, () => undefined);
  const { signIn } = access;
  if (signIn === null) return Array.from({ length: workers }, () => ({ access, state: null }));
  const missing = Math.max(0, workers - access.states.length);
  const tries = await Promise.allSettled(Array.from({ length: missing }, () => signInOnce(browser, access, signIn, signal)));
  signal.throwIfAborted();
  for (const tried of tries) if (tried.status === 'fulfilled') access.states.push(tried.value);
  const failed = tries.find((tried) => tried.status === 'rejected');
  if (access.states.length === 0 && failed !== undefined) throw failed.reason;
  return access.states.slice(0, workers).map((state) => ({ access, state }));
}

async function signInOnce(browser: Browser, access: Access, signIn: SignIn, signal: AbortSignal): Promise<SignedIn> {
  const { origin, secrets } = access;
  const { file, env, withinMs } = signIn;
  const context = await browser.newContext({ acceptDownloads: false, ignoreHTTPSErrors: true, serviceWorkers: 'block' });
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => {
      reject(new Error(`took longer than ${withinMs / 1000} s`));
    }, withinMs);
  });
  const ended = new Promise<never>((_resolve, reject) => {
    const end = (): void => {
      reject(sessionFailed(file, 'the run was ended'));
    };
    signal.addEventListener('abort', end, { once: true });
  });
  ended.catch(() => undefined);
  late.catch(() => undefined);
  let page: Page | null = null;
  try {
    await context.addCookies(cookiesOf({ access, state: null }));
    page = await context.newPage();
    const given = { page, context, env, origin };
    await (await openChromiumPage(context, page)).sendHeaders(access);
    const running = Promise.resolve().then(() => signIn.run(given));
    running.catch(() => undefined);
    await Promise.race([running, late, ended]);
    const state = await context.storageState({ indexedDB: true });
    secrets.learn(secretTexts(state));
    return state;
  } catch (error) {
    if (error instanceof GloamError) throw error;
    const stood = page === null ? null : await whereItStood(page);
    throw sessionFailed(file, secrets.scrub(firstLine(error)), { line: lineIn(file, error), stood: secrets.scrubAll(stood) });
  } finally {
    clearTimeout(timer);
    await context.close().catch(() => undefined);
  }
}

function firstLine(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return (text.split('\n')[0] ?? '').replace(/\.$/u, '');
}

/** Where the script was: the innermost of its lines that the stack names. */
function lineIn(file: string, error: unknown): number | null {
  if (!(error instanceof Error)) return null;
  const name = path.basename(file);
  const at = error.stack?.split('\n').find((text) => /^\s+at /u.test(text) && text.includes(`/${name}`));
  const [, line] = /:(\d+):\d+\)?$/u.exec(at ?? '') ?? [];
  return line === undefined ? null : Number(line);
}

function secretTexts({ cookies, origins }: SignedIn): readonly string[] {
  const stored = origins.flatMap(({ localStorage }) => localStorage.map(({ value }) => value));
  const texts = [...cookies.map(({ value }) => value), ...stored.flatMap(leavesOf)];
  return texts.filter((text) => text.length >= LEAST_SECRET && !/\s/u.test(text));
}

/** Tokens are often kept inside JSON. */
function leavesOf(text: string): readonly string[] {
  if (!/^\s*[[{"]/u.test(text)) return [text];
  try {
    const leaves: string[] = [];
    JSON.parse(text, (_name, value: unknown) => {
      if (typeof value === 'string') leaves.push(value);
      return value;
    });
    return leaves;
  } catch {
    return [text];
  }
}

/** The result as it may be written. Pixels are what the page shows. */
export function withoutSecrets(result: ViewResult, access: Access | undefined): ViewResult {
  if (access === undefined) return result;
  const { secrets } = access;
  if (result.status === 'failed') return { ...result, error: secrets.scrub(result.error) };
  return {
    ...result,
    page: secrets.scrubAll(result.page),
    samples: secrets.scrubAll(result.samples),
    properties: secrets.scrubAll(result.properties),
    notes: secrets.scrubAll(result.notes),
  };
}
