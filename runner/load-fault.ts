// Why a page could not be loaded, from what the browser said.
import { pageCrashed, pageIsDownload, pageLeft, pageTimeout, pageUnreachable } from '../src/errors/capture-errors.ts';
import type { GloamError } from '../src/errors/gloam-error.ts';
import type { Limits } from './limits.ts';

export function loadFault(error: unknown, url: string, { loadMs }: Pick<Limits, 'loadMs'>): GloamError {
  const message = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
  if (message.includes('Download is starting')) return pageIsDownload(url);
  if (message.includes('Timeout')) return pageTimeout(url, 'loading', loadMs);
  if (message.includes('crashed')) return pageCrashed(url);
  if (message.includes('interrupted by another navigation')) return pageLeft(url, message.replace(/^.*navigation to /u, ''));
  const reason = /net::(ERR_\w+)/u.exec(message)?.[1];
  return pageUnreachable(url, reason ?? message);
}
