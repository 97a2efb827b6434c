// The app under test as an origin to load pages from: a folder, a running address, or a command that serves one.
import { stat } from 'node:fs/promises';
import { appFolderMissing, appUnreachable } from '../../src/errors/capture-errors.ts';
import type { AppSource } from '../../src/plan/configuration.ts';
import { reachable, startCommand } from './start-command.ts';
import { serveFolder } from './static-server.ts';

export interface OpenApp {
  /** Start of every address, without a slash at the end; may include a path (`http://host/app`). */
  readonly origin: string;
  /** Ends what was started; may be called twice. */
  close(): Promise<void>;
}

/** @throws GloamError `app-folder-missing`, `app-unreachable`, `app-start-failed` */
export async function openApp(source: AppSource, signal: AbortSignal): Promise<OpenApp> {
  signal.throwIfAborted();
  switch (source.kind) {
    case 'serve': {
      const facts = await stat(source.folder).catch(() => null);
      if (facts?.isDirectory() !== true) throw appFolderMissing(source.folder);
      const server = await serveFolder(source.folder, source.fallback);
      return { origin: server.origin, close: once(() => server.close()) };
    }
    case 'url': {
      const why = await reachable(source.url);
      if (why !== null) throw appUnreachable(source.url, why);
      return { origin: trimSlash(source.url), close: () => Promise.resolve() };
    }
    case 'start': {
      const app = await startCommand(source, signal);
      return { origin: trimSlash(source.url), close: once(() => app.close()) };
    }
  }
}

const trimSlash = (url: string): string => url.replace(/\/+$/u, '');

function once(close: () => Promise<void>): () => Promise<void> {
  let closing: Promise<void> | null = null;
  return () => (closing ??= close());
}
