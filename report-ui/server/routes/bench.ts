// The bench, from whoever knows the token files and triage.
import type { FastifyInstance } from 'fastify';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';

export function benchRoutes(app: FastifyInstance, { models, sources }: ServerContext): void {
  route(app, 'bench', async ({ params }) => {
    const { summary } = await models.of(params.run);
    const packed = await sources.bench?.cases(summary.id);
    return { known: packed !== undefined, packed: packed ?? '' };
  });
  route(app, 'benchPatch', async ({ query }) => {
    return (await sources.bench?.patch(query.changes)) ?? { patch: '', left: ['no token files are known here'] };
  });
}
