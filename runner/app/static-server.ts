// Serves a folder on loopback as a plain web server would: content types, index.html, 404.
import { createReadStream } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';
import { pipeline } from 'node:stream/promises';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.htm': 'text/html; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.xml': 'application/xml',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.jpg': 'image/jpeg',
  '.jpeg': 'image/jpeg',
  '.gif': 'image/gif',
  '.webp': 'image/webp',
  '.avif': 'image/avif',
  '.ico': 'image/x-icon',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.otf': 'font/otf',
  '.mp4': 'video/mp4',
  '.webm': 'video/webm',
  '.mp3': 'audio/mpeg',
  '.pdf': 'application/pdf',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

export interface StaticServer {
  readonly origin: string;
  close(): Promise<void>;
}

/**
 * @param folder absolute, exists
 * @param fallback absolute path of the document for addresses that are no file, as servers of apps with client routes have it
 */
export async function serveFolder(folder: string, fallback?: string): Promise<StaticServer> {
  const root = await realpath(folder);
  const server = createServer((request, response) => {
    answer({ root, fallback }, request, response).catch(() => {
      response.destroy();
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', resolve);
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has an address');
  return {
    origin: `http://127.0.0.1:${address.port}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => {
          resolve();
        });
        server.closeAllConnections();
      }),
  };
}

interface Served {
  readonly root: string;
  readonly fallback: string | undefined;
}

async function answer({ root, fallback }: Served, request: IncomingMessage, response: ServerResponse): Promise<void> {
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.writeHead(405, { allow: 'GET, HEAD' }).end();
    return;
  }
  const path = decodePath(request.url ?? '/');
  const file = path === null ? null : ((await findFile(root, path)) ?? (await fallbackFor(path, fallback)));
  if (file === null) {
    response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' }).end('Not found\n');
    return;
  }
  if (file.kind === 'folder') {
    // Relative links inside need the slash.
    response.writeHead(301, { location: file.location }).end();
    return;
  }
  response.writeHead(200, {
    'content-type': TYPES[extname(file.path).toLowerCase()] ?? 'application/octet-stream',
    'content-length': file.size,
    'cache-control': 'no-cache',
  });
  if (request.method === 'HEAD') response.end();
  else await pipeline(createReadStream(file.path), response);
}

/** A missing style sheet or picture stays missing: only what may be a page is answered. */
async function fallbackFor(path: string, fallback: string | undefined): Promise<FoundFile | null> {
  const ending = extname(path).toLowerCase();
  if (fallback === undefined || (ending in TYPES && !ending.startsWith('.htm'))) return null;
  const facts = await stat(fallback).catch(() => null);
  return facts?.isFile() === true ? { kind: 'file', path: fallback, size: facts.size } : null;
}

function decodePath(url: string): string | null {
  try {
    return decodeURIComponent(new URL(url, 'http://loopback').pathname);
  } catch {
    return null;
  }
}

type FoundFile = { kind: 'file'; path: string; size: number } | { kind: 'folder'; location: string };

/** Only files inside the folder, also after links are followed. */
async function findFile(root: string, path: string): Promise<FoundFile | null> {
  const inside = (p: string): boolean => p === root || p.startsWith(root.endsWith(sep) ? root : root + sep);
  const wanted = normalize(join(root, path));
  if (!inside(wanted) || path.includes('\0')) return null;
  for (const candidate of path.endsWith('/') ? [join(wanted, 'index.html')] : [wanted, `${wanted}.html`]) {
    try {
      const real = await realpath(candidate);
      const facts = await stat(real);
      if (!inside(real)) return null;
      if (facts.isFile()) return { kind: 'file', path: real, size: facts.size };
      if (facts.isDirectory()) return { kind: 'folder', location: `${encodeURI(path)}/` };
    } catch {
      // The next candidate may exist.
    }
  }
  return null;
}
