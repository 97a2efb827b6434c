// Errors of signing in: the script, and sessions that do not hold.
import { GloamError } from './gloam-error.ts';

/** The page on which a script came no further. */
export interface Stood {
  readonly address: string;
  readonly title: string;
  /** In an alert or another place that is read out; '' where there is none. */
  readonly says: string;
  readonly asksPassword: boolean;
}

/** @param line of the script, from 1; null where it is not known @param stood null where no page tells */
export function sessionFailed(
  file: string,
  reason: string,
  { line, stood }: { readonly line: number | null; readonly stood: Stood | null } = { line: null, stood: null },
): GloamError {
  return new GloamError({
    code: 'session-failed',
    message: `${file}${line === null ? '' : `:${String(line)}`}: the sign-in failed: ${reason}${stood === null ? '' : `; the page was at ${stoodWords(stood)}`}`,
    hint: 'Try the steps of the script by hand; it must return once the app counts the visitor as signed in.',
    data: { file, ...(line === null ? {} : { line }), ...stood },
  });
}

function stoodWords({ address, title, says, asksPassword }: Stood): string {
  const does = [...(says === '' ? [] : [`says "${says}"`]), ...(asksPassword ? ['asks for a password'] : [])].join(' and ');
  return [address, ...(title === '' ? [] : [`titled "${title}"`]), ...(does === '' ? [] : [`which ${does}`])].join(', ');
}

/** What ends sessions, and what to do about it. */
const SESSION_OVER =
  'the session has run out or does not hold: give the account that signs in a longer session, run with --workers 1 where a second sign-in ends the first, or look what the script leaves behind (session)';
const NOT_LET_IN = 'the app does not take what it is sent: look at headers and cookies, or sign in with a script (session)';

export function overWords(by: LetInBy): string {
  return by === 'session' ? SESSION_OVER : NOT_LET_IN;
}

/** @param seen what stands there, and a page at whose address the same is shown */
export function pageSignedOut(
  url: string,
  seen: { readonly title: string; readonly heading: string; readonly other: string; readonly by: LetInBy },
): GloamError {
  const { title, heading, other, by } = seen;
  const what = [
    ...(title === '' ? [] : [`titled "${title}"`]),
    ...(heading === '' || heading === title ? [] : [`headed "${heading}"`]),
  ];
  return new GloamError({
    code: 'page-signed-out',
    message: `${url}: shows a form that asks for a password in place of the page${what.length === 0 ? '' : ` (${what.join(', ')})`}; ${other} shows the same. Probably ${overWords(by)}.`,
    hint: 'Nothing was captured of it. gloam help sign-in tells how sessions are kept, and how gloam knows that one is over.',
    data: { url, title, heading, other },
  });
}

/** How a run is let in. */
export type LetInBy = 'session' | 'headers';
