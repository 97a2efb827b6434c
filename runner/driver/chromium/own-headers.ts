// Headers for the app's origin alone. Each hop of a redirect is asked for anew and judged by its own address, so none leaves the app.
import type { CDPSession } from 'playwright';

export async function sendOwnHeaders(
  cdp: CDPSession,
  { origin, headers }: { readonly origin: string; readonly headers: Readonly<Record<string, string>> },
): Promise<void> {
  const own = Object.entries(headers).map(([name, value]) => ({ name, value }));
  if (own.length === 0) return;
  const names = new Set(own.map(({ name }) => name.toLowerCase()));
  const home = new URL(origin).origin;
  cdp.on('Fetch.requestPaused', ({ requestId, request }) => {
    const given = Object.entries(request.headers).map(([name, value]) => ({ name, value }));
    const others = given.filter(({ name }) => !names.has(name.toLowerCase()));
    const isHome = URL.canParse(request.url) && new URL(request.url).origin === home;
    // A page's own header of that name goes on to where the page sends it.
    const sent = isHome ? { headers: [...others, ...own] } : {};
    // The page may be gone by now.
    cdp.send('Fetch.continueRequest', { requestId, ...sent }).catch(() => undefined);
  });
  await cdp.send('Fetch.enable', { patterns: [{ urlPattern: '*' }] });
}
