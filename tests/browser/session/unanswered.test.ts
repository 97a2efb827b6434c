// An address that was once waited for in vain is no reason to give up what it answers later.
import { expect, test } from 'vitest';
import { captured, renderAll, serve, texts } from './harness.ts';

const PAGE =
  '<!doctype html><title>Board</title><p id="room">…</p><script>fetch("/-tides").then(()=>{room.textContent="Level"})</script>';

test('the first page gets no answer and says so; the next one gets it late, and is waited for', async () => {
  let asked = 0;
  const harbour = await serve({
    '/a': PAGE,
    '/b': PAGE,
    '/-tides': (_, response) => {
      asked += 1;
      if (asked > 1) setTimeout(() => response.end('{}'), 900);
    },
  });
  try {
    const request = { workers: 1, limits: { settleMs: 2_000 } };
    const results = await renderAll({ origin: harbour.origin, paths: ['/a', '/b'], request });
    const [first, next] = ['a', 'b'].map((page) => results.find(({ view }) => view.page === page));
    expect(captured(first).notes).toMatchObject([{ code: 'unanswered' }]);
    expect(captured(next).notes).toEqual([]);
    expect(texts(next).map(({ text }) => text)).toEqual(['Level']);
  } finally {
    await harbour.close();
  }
});
