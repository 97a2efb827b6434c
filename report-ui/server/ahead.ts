// What nobody has asked yet but will at once: the newest run is read as soon as the server listens, and the page's own answer names
// its first question, so that the browser puts it while it still loads the script.
import type { FastifyInstance } from 'fastify';
import { ENDPOINTS } from '../api/endpoints.ts';
import type { ServerContext } from './context.ts';

/** Time for a browser to draw what it got. */
const AFTER_MS = 300;
/** Where nobody asks for anything, the list is read anyway. */
const IDLE_MS = 2_000;

export function askAhead(app: FastifyInstance, { models, indexes }: ServerContext): void {
  app.addHook('onListen', () => {
    // Whoever asks for it meets the same trouble and is told.
    readNewest(models).catch(() => undefined);
    readListIn(IDLE_MS);
    return Promise.resolve();
  });
  // The list comes next, then the words it is searched by: read when the first screen has all it asked for, so that nobody waits.
  let read = false;
  const readListIn = (ms: number): void => {
    setTimeout(() => {
      if (read) return;
      read = true;
      models
        .of('newest')
        .then((model) => indexes.of(model))
        .then((index) => index.words())
        .catch(() => undefined);
    }, ms).unref();
  };
  app.addHook('onResponse', (request) => {
    if (!read && request.routeOptions.url === ENDPOINTS.grid.path) readListIn(AFTER_MS);
    return Promise.resolve();
  });
}

async function readNewest(models: ServerContext['models']): Promise<void> {
  const model = await models.of('newest');
  await Promise.all([model.causes(), model.gone(), model.coverage()]);
}

/** `Link` header of the page: what every screen asks first. */
export const FIRST_QUESTION = `<.${ENDPOINTS.session.path}>; rel=preload; as=fetch; crossorigin`;
