// Errors of the runner: the browser, the app under test, and views that could not be captured.
import { GloamError } from './gloam-error.ts';
import { overWords } from './sign-in-errors.ts';
import type { LetInBy } from './sign-in-errors.ts';

export function browserNotFound(looked: readonly string[]): GloamError {
  return new GloamError({
    code: 'browser-not-found',
    message: `found no Chromium; looked at ${looked.join(', ')}.`,
    hint: 'Run "npx playwright install chromium", or install your system\'s package (Debian: apt-get install chromium-headless-shell), or set GLOAM_BROWSER to the program.',
    data: { looked },
  });
}

export function browserFailed(path: string, reason: string): GloamError {
  return new GloamError({
    code: 'browser-failed',
    message: `${path}: did not start: ${reason}`,
    hint: 'Start the program by hand with --version; when it lacks libraries, "npx playwright install-deps chromium" installs them.',
    data: { path },
  });
}

export function pageCodeMissing(file: string): GloamError {
  return new GloamError({
    code: 'page-code-missing',
    message: `${file}: not found; expected the bundled in-page code.`,
    hint: 'Run "npm run build:page".',
    data: { file },
  });
}

export function appFolderMissing(folder: string): GloamError {
  return new GloamError({
    code: 'app-folder-missing',
    message: `app.serve: ${folder} is no folder that can be read.`,
    hint: "Name the folder that holds the app's built files.",
    data: { folder },
  });
}

export function appStartFailed(command: string, reason: string, output: string): GloamError {
  return new GloamError({
    code: 'app-start-failed',
    message: `app.start: "${command}" ${reason}${output === '' ? '' : `; its last words:\n${output}`}`,
    hint: 'Run the command by hand; it must serve app.url and keep running.',
    data: { command, output },
  });
}

/** @param started by app.start: the command runs, and still nothing answers */
export function appUnreachable(url: string, reason: string, started = false): GloamError {
  return new GloamError({
    code: 'app-unreachable',
    message: `app.url: ${url} does not answer: ${reason}`,
    hint: started
      ? 'Check that the command of app.start serves this very address, port and path; run it by hand and open the address.'
      : 'Start the app first, or let gloam start it with app.start.',
    data: { url },
  });
}

export function pagesNotFound(from: string, reason: string): GloamError {
  return new GloamError({
    code: 'pages-not-found',
    message: `pages: ${from}: ${reason}`,
    hint: 'Correct the address, or list the pages by their paths.',
    data: { from },
  });
}

export function pageUnreachable(url: string, reason: string): GloamError {
  return new GloamError({
    code: 'page-unreachable',
    message: `${url}: cannot be reached: ${reason}`,
    hint: 'Open the address in a browser; check that the app runs.',
    data: { url },
  });
}

/** @param expected the status that the configuration says; 2xx when absent */
export function pageHttpError(url: string, status: number, expected?: number): GloamError {
  return new GloamError({
    code: 'page-http-error',
    message: `${url}: answered with HTTP ${status}; expected ${expected === undefined ? 'a page (2xx)' : `HTTP ${expected}, as its status says`}.`,
    hint: 'Correct the path in the configuration or mend the app; a page that is meant to answer so says its status.',
    data: { url, status },
  });
}

export function pageLandedElsewhere(
  url: string,
  seen: {
    readonly landed: string;
    readonly title: string;
    readonly heading: string;
    readonly asksPassword: boolean;
    /** Where the configuration says that it ends. */
    readonly lands?: string;
    /** How the run is let in; absent for a stranger. */
    readonly by?: LetInBy;
  },
): GloamError {
  const { landed, title, heading, asksPassword, lands, by } = seen;
  const what = [
    ...(title === '' ? [] : [`titled "${title}"`]),
    ...(heading === '' || heading === title ? [] : [`headed "${heading}"`]),
    ...(asksPassword ? ['which asks for a password'] : []),
  ].join(', ');
  const toDo = asksPassword ? (by === undefined ? 'sign in with a script (session)' : overWords(by)) : notAsked(by);
  return new GloamError({
    code: 'page-landed-elsewhere',
    message: `${url}: ended at ${landed}${what === '' ? '' : `, a page ${what}`}; expected ${lands === undefined ? 'the page asked for' : `${lands}, as its lands says`}: ${toDo}, or say that it leads there (lands).`,
    hint: 'gloam help sign-in shows a script for session, and tells when one is over; lands stands beside the path of the page.',
    data: { url, landed, title, heading, asksPassword },
  });
}

/** It may be a sign-in all the same: many ask for the name first. */
function notAsked(by: LetInBy | undefined): string {
  if (by === undefined) return 'name the address it leads to, sign in (session)';
  return `name the address it leads to (if it is the sign-in, ${overWords(by)})`;
}

/** @param why what puts it on, and what would answer to it */
export function themeWithoutEffect(
  theme: string,
  seen: { readonly reference: string; readonly pages: number; readonly why: string },
): GloamError {
  const { reference, pages, why } = seen;
  const where = pages === 1 ? 'the one page' : `all ${pages} pages`;
  return new GloamError({
    code: 'theme-without-effect',
    message: `theme "${theme}" looks exactly like "${reference}" on ${where}: ${why}.`,
    hint: 'Correct the theme\'s apply; one that is meant to look so says "alike": true.',
    data: { theme, reference, pages },
  });
}

export function pageIsDownload(url: string): GloamError {
  return new GloamError({
    code: 'page-is-download',
    message: `${url}: answered with a download; expected a page.`,
    hint: 'Take the address out of the pages.',
    data: { url },
  });
}

/** @param meanwhile what the page did much of; empty where nothing stands out */
export function pageTimeout(url: string, doing: string, ms: number, meanwhile = ''): GloamError {
  const did = meanwhile === '' ? '' : `; meanwhile the page made ${meanwhile}`;
  return new GloamError({
    code: 'page-timeout',
    message: `${url}: ${doing} took longer than ${ms} ms${did}.`,
    hint: 'A script that never ends, or an answer that never comes, holds the page up.',
    data: { url, doing, ms },
  });
}

/** @param spent the steps that took most, with their times @param meanwhile what the page did much of; empty where nothing stands out */
export function viewOutOfTime(
  url: string,
  { doing, viewMs, spent, meanwhile }: { doing: string; viewMs: number; spent: string; meanwhile: string },
): GloamError {
  const went = spent === '' ? '' : `; most of it went into: ${spent}`;
  const did = meanwhile === '' ? '' : `; meanwhile the page made ${meanwhile}`;
  return new GloamError({
    code: 'view-out-of-time',
    message: `${url}: its time of ${viewMs / 1000} s was over while ${doing} was waited for${went}${did}.`,
    hint: 'A script that never ends or an answer that never comes holds the page up. Where a view needs longer for a good reason, raise limits.view in the configuration.',
    data: { url, doing, viewMs },
  });
}

export function pageFloods(url: string, what: string): GloamError {
  return new GloamError({
    code: 'page-floods',
    message: `${url}: made ${what} while one view was captured, and was given up.`,
    hint: 'Look for a loop or a timer that does this again and again; the other views went on.',
    data: { url, what },
  });
}

export function pageHopeless(url: string, reason: string): GloamError {
  return new GloamError({
    code: 'page-hopeless',
    message: `${url}: not tried, since two views of this page ran out of time one after the other; the last one said: ${reason}`,
    hint: 'Mend what holds the page up; its other views are tried again then.',
    data: { url },
  });
}

export function pageWithoutRoot(url: string): GloamError {
  return new GloamError({
    code: 'page-without-root',
    message: `${url}: its document has no root element any more, so there is nothing to look at; a script took it out.`,
    hint: 'Open the page with its developer tools; look for a script that empties or replaces the document.',
    data: { url },
  });
}

export function pageReloads(url: string): GloamError {
  return new GloamError({
    code: 'page-reloads',
    message: `${url}: loaded itself anew while it was captured, again and again.`,
    hint: 'Look for a script or a refresh header that reloads the page; a switch for tests can hold it.',
    data: { url },
  });
}

export function pageCrashed(url: string): GloamError {
  return new GloamError({
    code: 'page-crashed',
    message: `${url}: the page's process crashed.`,
    hint: 'Open it in a browser and watch its memory; the other views went on.',
    data: { url },
  });
}

export function pageLeft(url: string, to: string): GloamError {
  return new GloamError({
    code: 'page-left',
    message: `${url}: went on to ${to} while it was captured, again and again.`,
    hint: 'Take the redirecting or reloading page out, or name the address it leads to.',
    data: { url, to },
  });
}

export function pageUnsettled(url: string, what: string): GloamError {
  return new GloamError({
    code: 'unsettled',
    message: `${url}: did not come to rest: ${what}; name what moves in "mask" where its pixels do not matter, or in "waitFor" a place that is there once the page rests.`,
    hint: 'Stop what moves (honour prefers-reduced-motion, or a switch for tests), then run again.',
    data: { url, what },
  });
}

export function placeNotFound(url: string, what: string, selector: string): GloamError {
  return new GloamError({
    code: 'place-not-found',
    message: `${url}: ${what}: nothing matches the selector "${selector}".`,
    hint: 'Correct the selector, or leave this page out of it.',
    data: { url, what, selector },
  });
}

export function scriptFailed(url: string, file: string, reason: string): GloamError {
  return new GloamError({
    code: 'script-failed',
    message: `${file}: failed in ${url}: ${reason}`,
    hint: 'Try the script in the console of the page.',
    data: { url, file },
  });
}

export function pictureFailed(url: string, reason: string): GloamError {
  return new GloamError({
    code: 'picture-failed',
    message: `${url}: no picture of the whole page: ${reason}`,
    hint: 'Very large pages need much memory; fewer --workers leave more for each.',
    data: { url },
  });
}

/** @param pseudoClass without its colon */
export function stateNotForced(url: string, pseudoClass: string): GloamError {
  return new GloamError({
    code: 'state-unavailable',
    message: `${url}: this browser cannot be told that :${pseudoClass} holds for an element.`,
    hint: 'Leave such states out ("gloam run --state rest"), or run with a browser that can: Chromium.',
    data: { url, pseudoClass },
  });
}

export function captureFailed(url: string, cause: unknown): GloamError {
  const text = cause instanceof Error ? cause.message : String(cause);
  // What follows is a stack of functions, ours or the page's.
  const [reason = ''] = text.split('\n');
  return new GloamError({
    code: 'capture-failed',
    message: `${url}: could not be read: ${reason}`,
    hint: 'This should not happen: please report it with the page.',
    data: { url },
    cause,
  });
}
