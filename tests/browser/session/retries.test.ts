// A view that failed by what may be luck is tried again, and says so; one that never comes fails once and for all.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { configurationOf, renderAll, serve } from './harness.ts';
import type { Harbour } from './harness.ts';

const still = '<!doctype html><title>Quay</title><h1>Quay</h1>';
let loads = 0;
let harbour: Harbour;
beforeAll(async () => {
  harbour = await serve({
    // The first answer never ends; all others are at once.
    '/flaky': (_request, response) => {
      loads += 1;
      response.writeHead(200, { 'content-type': 'text/html' });
      if (loads > 1) response.end(still);
    },
    '/stuck': (_request, response) => {
      response.writeHead(200, { 'content-type': 'text/html' });
    },
    '/steady': still,
  });
});
afterAll(() => harbour.close());

test('an unsteady view is kept with a note, a stuck one fails, a steady one says nothing', async () => {
  const setup = { origin: harbour.origin, paths: ['/flaky', '/stuck', '/steady'], configuration: { retries: 1 } };
  const results = await renderAll({ ...setup, request: { limits: { loadMs: 1_500 } } });
  const of = (name: string): (typeof results)[number] | undefined => results.find(({ view }) => view.page === name);
  expect(results).toHaveLength(3);
  expect(of('flaky')).toMatchObject({
    status: 'captured',
    notes: [{ code: 'retried', data: { errors: [expect.stringContaining('loading took longer than 1500 ms')] } }],
  });
  // The next night must look anew.
  expect(of('flaky')).not.toHaveProperty('fingerprint');
  expect(of('stuck')).toMatchObject({ status: 'failed', code: 'page-timeout' });
  expect(of('steady')).toMatchObject({ status: 'captured', notes: [] });
});

test('without retries the first failure counts', async () => {
  loads = 0;
  const setup = { origin: harbour.origin, paths: ['/flaky'], request: { limits: { loadMs: 1_000 } } };
  expect(configurationOf(setup).retries).toBeUndefined();
  expect((await renderAll(setup)).map(({ status }) => status)).toEqual(['failed']);
});
