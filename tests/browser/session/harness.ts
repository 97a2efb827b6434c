// A configuration around a few pages given as text, served on loopback, for tests that render them.
import { createServer } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import { render } from '../../../runner/render.ts';
import type { RenderRequest } from '../../../runner/render-request.ts';
import type { Configuration, Page, State, Theme } from '../../../src/plan/configuration.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import type { CapturedView, ViewResult } from '../../../src/samples/captured-view.ts';
import type { TextSample } from '../../../src/samples/sample.ts';
import { sharedBrowser } from '../../shared-browser.ts';

export type Answer = string | ((request: IncomingMessage, response: ServerResponse) => void);

export interface Harbour {
  readonly origin: string;
  close(): Promise<void>;
}

/** Serves each path's HTML; a function answers by itself. @param onSocket takes web sockets */
export async function serve(
  pages: Readonly<Record<string, Answer>>,
  onSocket?: (request: IncomingMessage, socket: Duplex) => void,
): Promise<Harbour> {
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://loopback').pathname;
    const answer = pages[path];
    if (answer === undefined) response.writeHead(404, { 'content-type': 'text/plain' }).end('no such page');
    else if (typeof answer === 'string') response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(answer);
    else answer(request, response);
  });
  const sockets = new Set<Duplex>();
  if (onSocket !== undefined) {
    server.on('upgrade', (request, socket) => {
      sockets.add(socket);
      onSocket(request, socket);
    });
  }
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    origin: `http://127.0.0.1:${String(address.port)}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => {
          resolve();
        });
        server.closeAllConnections();
        for (const socket of sockets) socket.destroy();
      }),
  };
}

export const PLAIN: Theme = { name: 'plain', tone: 'light', apply: {}, tokens: {} };

export interface Setup {
  readonly origin: string;
  readonly paths: readonly string[];
  readonly themes?: readonly Theme[];
  readonly states?: readonly State[];
  readonly configuration?: Partial<Configuration>;
  readonly request?: Partial<RenderRequest>;
  /** For pages that take a browser down with them, and for what is asked of its start and end. */
  readonly ownBrowser?: true;
  /** Sees each result before it is kept. */
  readonly onResult?: (result: ViewResult) => void;
}

export function configurationOf(setup: Setup): Configuration {
  const themes = setup.themes ?? [PLAIN];
  return {
    file: '/harbour/gloam.config.json',
    folder: '/harbour',
    app: { kind: 'url', url: setup.origin },
    pages: { kind: 'list', pages: pagesOf(setup) },
    themes,
    reference: themes[0]?.name ?? 'plain',
    viewports: [{ name: 'desk', widthCssPx: 800, heightCssPx: 600, scale: 1 }],
    states: setup.states ?? [],
    stay: [],
    exempt: [],
    mask: [],
    checks: {},
    owners: [],
    gate: {},
    ...setup.configuration,
  };
}

function pagesOf(setup: Setup): readonly Page[] {
  const states = (setup.states ?? []).map((state) => state.name);
  return setup.paths.map((path) => ({ name: path === '/' ? 'home' : path.slice(1), path, states }));
}

export async function renderAll(setup: Setup): Promise<readonly ViewResult[]> {
  const configuration = configurationOf(setup);
  const pages = pagesOf(setup);
  const views = makePlan({ origin: setup.origin, pages, themes: configuration.themes, viewports: configuration.viewports });
  const results: ViewResult[] = [];
  const request: RenderRequest = {
    configuration,
    views,
    pages,
    dye: [],
    workers: 1,

    signal: new AbortController().signal,
    ...(setup.ownBrowser === true ? {} : { browser: await sharedBrowser() }),
    ...setup.request,
  };
  await render(request, (result) => {
    setup.onResult?.(result);
    results.push(result);
  });
  return results;
}

export function captured(result: ViewResult | undefined): CapturedView {
  if (result?.status !== 'captured') throw new Error(`not captured: ${result === undefined ? 'no result' : result.error}`);
  return result;
}

export function texts(result: ViewResult | undefined): readonly TextSample[] {
  return captured(result).samples.flatMap((sample) => (sample.kind === 'text' ? [sample] : []));
}
