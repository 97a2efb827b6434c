// The OpenAPI 3.1 document of the report server, made from the schemas that check its requests.
import { z } from 'zod';
import { ENDPOINTS } from '../api/endpoints.ts';
import type { Endpoint } from '../api/endpoints.ts';
import { failure } from '../api/live.ts';

type Json = Readonly<Record<string, unknown>>;

export function openApi(version: string): Json {
  const paths: Record<string, Record<string, Json>> = {};
  for (const [name, endpoint] of Object.entries(ENDPOINTS)) {
    const path = endpoint.path.replace(/:(\w+)/g, '{$1}');
    paths[path] = { ...paths[path], [endpoint.method.toLowerCase()]: operation(name, endpoint) };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'gloam report server',
      version,
      description: 'Reads a store of runs.',
    },
    paths: { ...paths, ...PLAIN },
    components: {
      schemas: { Failure: schemaOf(failure, 'output') },
      securitySchemes: { token: { type: 'apiKey', in: 'header', name: 'x-gloam-token', description: 'From `/api/session`.' } },
    },
  };
}

/** Addresses that answer with something other than JSON of a schema: pictures, events, this document. */
const PLAIN: Readonly<Record<string, Json>> = {
  '/api/events': plain('events', 'What happens in the store, as server-sent events.', [], 'text/event-stream'),
  '/api/runs/{run}/bench-picture': plain(
    'benchPicture',
    'A view of the live app with a proposal worn: query `view`, and `changes` as for the patch. Refused where nothing may be changed.',
    ['run'],
    'image/png',
  ),
  '/api/openapi.json': plain('openapi', 'This document.', [], 'application/json'),
  '/blobs/{hash}': plain('blob', 'A picture as it was captured.', ['hash'], 'image/png'),
  '/thumbs/{hash}/{width}': plain('thumb', 'A picture scaled to a width in px.', ['hash', 'width'], 'image/webp'),
  '/sheets/{run}/{theme}': plain('sheet', 'The launch sheet of a theme, as a file.', ['run', 'theme'], 'text/html'),
  '/crops/{hash}/{box}': plain('crop', 'A part of a picture, left-top-width-height in its own px.', ['hash', 'box'], 'image/webp'),
};

function plain(operationId: string, summary: string, params: readonly string[], type: string): Json {
  return {
    get: {
      operationId,
      summary,
      parameters: params.map((name) => ({ name, in: 'path', required: true, schema: { type: 'string' } })),
      responses: { 200: { description: summary, content: { [type]: {} } } },
    },
  };
}

function operation(name: string, { method, about, params, query, body, answer }: Endpoint): Json {
  return {
    operationId: name,
    summary: about,
    parameters: [...parameters(params, 'path'), ...parameters(query, 'query')],
    ...(method === 'POST'
      ? { security: [{ token: [] }], requestBody: { required: true, content: json(schemaOf(body, 'input')) } }
      : {}),
    responses: {
      200: { description: about, content: json(schemaOf(answer, 'output')) },
      '4XX': { description: 'Why not.', content: json({ $ref: '#/components/schemas/Failure' }) },
    },
  };
}

function parameters(shape: z.ZodObject, place: 'path' | 'query'): readonly Json[] {
  return Object.entries(shape.shape).map(([name, schema]) => ({
    name,
    in: place,
    required: place === 'path' || !z.safeParse(z.strictObject({ [name]: schema as z.ZodType }), {}).success,
    schema: schemaOf(schema as z.ZodType, 'input'),
  }));
}

function schemaOf(schema: z.ZodType, io: 'input' | 'output'): Json {
  const made = z.toJSONSchema(schema, { io, unrepresentable: 'any' });
  return Object.fromEntries(Object.entries(made).filter(([key]) => key !== '$schema'));
}

function json(schema: Json): Json {
  return { 'application/json': { schema } };
}
