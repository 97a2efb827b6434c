// Why a page could not be loaded, from what the browser said.
import {
  pageCrashed,
  pageIsDownload,
  pageLeft,
  pageReloads,
  pageTimeout,
  pageUnreachable,
} from '../../src/errors/capture-errors.ts';
import type { GloamError } from '../../src/errors/gloam-error.ts';
import type { Limits } from './limits.ts';

/** @param meanwhile what the page did much of; empty where nothing stands out */
export function loadFault(
  error: unknown,
  url: string,
  { loadMs, meanwhile }: Pick<Limits, 'loadMs'> & { readonly meanwhile: string },
): GloamError {
  const message = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
  if (message.includes('Download is starting')) return pageIsDownload(url);
  if (message.includes('Timeout')) return pageTimeout(url, 'loading', loadMs, meanwhile);
  if (message.includes('crashed')) return pageCrashed(url);
  if (message.includes('interrupted by another navigation')) {
    const to = message.replace(/^.*navigation to /u, '').replace(/^"|"$/gu, '');
    return bare(to) === bare(url) ? pageReloads(url) : pageLeft(url, to);
  }
  const reason = /net::(ERR_\w+)/u.exec(message)?.[1];
  return pageUnreachable(url, reason ?? message);
}

const bare = (url: string): string => url.replace(/#.*$/u, '');
