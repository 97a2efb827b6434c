// What nobody has asked yet but will at once: the newest run is read as soon as the server listens, and the page's own address names
// its first questions, so that the browser puts them while it still loads the script.
import type { FastifyInstance } from 'fastify';
import { questionAddress } from '../api/address.ts';
import { ENDPOINTS } from '../api/endpoints.ts';
import type { ServerContext } from './context.ts';

export function askAhead(app: FastifyInstance, { models }: ServerContext): void {
  app.addHook('onListen', () => {
    // Whoever asks for it meets the same trouble and is told.
    readNewest(models).catch(() => undefined);
    return Promise.resolve();
  });
}

async function readNewest(models: ServerContext['models']): Promise<void> {
  const model = await models.of('newest');
  await Promise.all([model.causes(), model.gone(), model.coverage()]);
}

/** The `Link` header of the page. */
export async function firstQuestions({ ledger }: Pick<ServerContext, 'ledger'>): Promise<string> {
  const [newest] = await ledger.runs({ limit: 1 });
  const questions = [
    ENDPOINTS.session.path,
    ...(newest === undefined ? [] : [questionAddress(ENDPOINTS.run.path, { run: newest.id }, {})]),
  ];
  return questions.map((address) => `<${address}>; rel=preload; as=fetch; crossorigin`).join(', ');
}
