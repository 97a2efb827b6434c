// The built page: read once at the start, served from memory by exact name. No path from a request ever reaches the disk.
import { existsSync } from 'node:fs';
import { readFile, readdir } from 'node:fs/promises';
import { dirname, extname, join, relative, sep } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { pageNotBuilt } from '../../src/errors/server-errors.ts';
import { codingFor, packer } from './compress.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
};

/** `dist/web` of the package, found from wherever this file lies (source or built). */
export function webFolder(): string {
  let folder = import.meta.dirname;
  while (!existsSync(join(folder, 'package.json')) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, 'dist', 'web');
}

/** By address, `/` for the page itself. @throws page-not-built */
export async function readPageFiles(folder: string): Promise<ReadonlyMap<string, Buffer>> {
  if (!existsSync(join(folder, 'index.html'))) throw pageNotBuilt(folder);
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = entries
    .filter((entry) => entry.isFile() && extname(entry.name) in TYPES)
    .map((entry) => join(entry.parentPath, entry.name));
  return new Map(
    await Promise.all(
      files.map(async (file): Promise<[string, Buffer]> => {
        const name = relative(folder, file).split(sep).join('/');
        return [name === 'index.html' ? '/' : `/${name}`, await readFile(file)];
      }),
    ),
  );
}

/** @param link `Link` header of the page itself */
export function pageRoutesOf(app: FastifyInstance, files: ReadonlyMap<string, Buffer>, link: string): void {
  for (const [address, content] of files) {
    const type = TYPES[address === '/' ? '.html' : extname(address)] ?? 'application/octet-stream';
    // Built files carry a hash in their names.
    const cache = address.startsWith('/assets/') ? 'private, max-age=31536000, immutable' : 'no-cache';
    const file = packer(content);
    app.get(address, (request, reply) => {
      if (address === '/') void reply.header('link', link);
      // Fonts are packed already.
      const coding = type.startsWith('font/') ? null : codingFor(request.headers['accept-encoding']);
      if (coding !== null) void reply.header('content-encoding', coding);
      return reply.type(type).header('cache-control', cache).header('vary', 'accept-encoding').send(file(coding));
    });
  }
}
