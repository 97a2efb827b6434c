// Opens a store and serves its reports until closed.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beyondLoopback, portTaken, secretTooShort } from '../../src/errors/server-errors.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';
import { buildServer } from './build-server.ts';
import { isLoopback } from './guard.ts';
import { readPageFiles, webFolder } from './page-files.ts';
import type { ReportSources } from './sources.ts';

export interface ServeOptions {
  /** Store folder. */
  readonly store: StorePlace;
  /** 127.0.0.1 when absent. */
  readonly host?: string;
  /** 0 (the default): any free one. */
  readonly port?: number;
  readonly readOnly?: boolean;
  /** Allows a host that other machines can reach; needs `secret` too. */
  readonly beyondLoopback?: boolean;
  /** Asked of everybody who opens the report. */
  readonly secret?: string;
  /** Path the report lies under behind a proxy, e.g. `/gloam/`; `/` when absent. */
  readonly base?: string;
  /** Names the proxy is asked by. */
  readonly publicNames?: readonly string[];
  readonly sources?: ReportSources;
}

export interface ReportServer {
  readonly url: string;
  /** May be called twice. */
  close(): Promise<void>;
}

const LEAST_SECRET = 16;

/** @throws beyond-loopback, secret-too-short, port-taken, page-not-built, and what `openLedger` throws */
export async function serveReports(options: ServeOptions): Promise<ReportServer> {
  const { store, host = '127.0.0.1', port = 0, readOnly = false, secret } = options;
  if (!isLoopback(host) && (options.beyondLoopback !== true || secret === undefined)) throw beyondLoopback(host);
  if (secret !== undefined && secret.length < LEAST_SECRET) throw secretTooShort(LEAST_SECRET, secret.length);
  const folder = webFolder();
  const page = await readPageFiles(folder);
  const ledger = await openLedger(store, { access: readOnly ? 'read' : 'edit' });
  try {
    const app = await buildServer({
      ledger,
      form: 'live',
      host,
      readOnly,
      gloam: packageVersion(folder),
      page,
      sources: options.sources ?? {},
      base: baseOf(options.base),
      publicNames: options.publicNames ?? [],
      ...(secret === undefined ? {} : { secret }),
    });
    let url: string;
    try {
      url = await app.listen({ host, port });
    } catch (error) {
      await app.close();
      throw portTaken(host, port, error);
    }
    let closing: Promise<void> | undefined;
    const closeAll = async (): Promise<void> => {
      await app.close();
      await ledger.close();
    };
    return { url, close: () => (closing ??= closeAll()) };
  } catch (error) {
    await ledger.close();
    throw error;
  }
}

/** With one slash at both ends. */
function baseOf(path = '/'): string {
  const inner = path.replace(/^\/+|\/+$/g, '');
  return inner === '' ? '/' : `/${inner}/`;
}

/** @param folder `dist/web` of the package */
export function packageVersion(folder: string): string {
  const parsed: unknown = JSON.parse(readFileSync(join(folder, '../../package.json'), 'utf8'));
  return typeof parsed === 'object' && parsed !== null && 'version' in parsed ? String(parsed.version) : 'unknown';
}
