// One way to add an endpoint: by its name in the table, with a handler that gets what the table's schemas let through.
import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import { ENDPOINTS } from '../api/endpoints.ts';
import type { Answer, Body, EndpointName, Params, Query } from '../api/endpoints.ts';
import { requestUnreadable } from '../../src/errors/server-errors.ts';

export interface Asked<N extends EndpointName> {
  readonly params: Params<N>;
  readonly query: Query<N>;
  readonly body: Body<N>;
}

export function route<N extends EndpointName>(
  app: FastifyInstance,
  name: N,
  answer: (asked: Asked<N>) => Promise<Answer<N>>,
): void {
  const endpoint: (typeof ENDPOINTS)[N] = ENDPOINTS[name];
  app.route({
    method: endpoint.method,
    url: endpoint.path,
    handler: async (request, reply) => {
      void reply.header('cache-control', 'no-store');
      const asked = {
        params: read(endpoint.params, request.params, 'path'),
        query: read(endpoint.query, request.query, 'query'),
        body: endpoint.method === 'POST' ? read(endpoint.body, request.body, 'body') : {},
      };
      // Each part was read by the schema its type is made from; the compiler cannot tie the two through N.
      return answer(asked as Asked<N>);
    },
  });
}

function read(schema: z.ZodType, value: unknown, part: string): unknown {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  const at = [part, ...(issue?.path ?? [])].map(String).join('.');
  throw requestUnreadable(at, 'something else', issue?.message.toLowerCase() ?? 'what the API document says');
}
