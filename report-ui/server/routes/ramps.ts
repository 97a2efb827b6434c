// Ramps, from whoever knows the token files.
import type { FastifyInstance } from 'fastify';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';

export function rampRoutes(app: FastifyInstance, { models, sources }: ServerContext): void {
  route(app, 'ramps', async ({ params }) => {
    const { summary } = await models.of(params.run);
    return { known: sources.ramps !== undefined, ramps: (await sources.ramps?.(summary.id)) ?? [] };
  });
}
