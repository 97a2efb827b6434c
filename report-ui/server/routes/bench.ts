// The bench, from whoever knows the token files, triage and the app.
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { BenchWork } from '../../api/bench.ts';
import { benchUnable, readOnlyReport, requestUnreadable } from '../../../src/errors/server-errors.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';

const MOST_SHOTS = 40;
const ids = z.array(z.string()).max(MOST_SHOTS);
const pictureQuery = z.object({ view: z.string(), changes: z.string() });

export function benchRoutes(app: FastifyInstance, { models, sources, session }: ServerContext): void {
  const { bench } = sources;
  const worker = bench?.work;
  const told = (work: BenchWork['work'] | undefined): BenchWork => ({ work: work ?? null });

  route(app, 'bench', async ({ params }) => {
    const { summary } = await models.of(params.run);
    const packed = await bench?.cases(summary.id);
    return { known: packed !== undefined, packed: packed ?? '', works: worker !== undefined && session.token !== null };
  });
  route(app, 'benchPatch', async ({ query }) => {
    return (await bench?.patch(query.changes)) ?? { patch: '', left: ['no token files are known here'] };
  });
  route(app, 'benchLooks', async ({ params, query: { view, changes } }) => {
    const { summary } = await models.of(params.run);
    return { looks: (await bench?.looks(summary.id, view, changes)) ?? [] };
  });
  route(app, 'benchShots', async ({ params, query }) => {
    const { views } = await models.of(params.run);
    const wanted = new Set(idsIn(query.views));
    return {
      shots: views.flatMap(({ id, shot, widthCssPx, heightCssPx, scale }) =>
        !wanted.has(id) || shot === null
          ? []
          : [{ view: id, shot, widthCssPx: widthCssPx ?? 0, heightCssPx: heightCssPx ?? 0, scale: scale ?? 1 }],
      ),
    };
  });
  route(app, 'benchWork', () => Promise.resolve(told(worker?.now())));
  route(app, 'benchBegin', async ({ body }) => {
    if (worker === undefined) throw benchUnable('this report knows no configuration to work with.');
    const { summary } = await models.of(body.run);
    return told(await worker.begin({ ...body, run: summary.id }));
  });
  route(app, 'benchEnd', async ({ body }) => told(await worker?.end(body.id)));

  // A browser is started for it: not for everybody who may read.
  app.get<{ Params: { run: string } }>('/api/runs/:run/bench-picture', async (request, reply) => {
    if (session.token === null) throw readOnlyReport();
    const asked = pictureQuery.safeParse(request.query);
    if (!asked.success) throw requestUnreadable('query', 'something else', 'view and changes');
    if (bench?.picture === undefined) throw benchUnable('this report knows no app to open.');
    const { summary } = await models.of(request.params.run);
    const made = await bench.picture(summary.id, asked.data.view, asked.data.changes);
    return reply.type('image/png').header('cache-control', 'no-store').send(Buffer.from(made));
  });
  app.addHook('onClose', async () => {
    await worker?.close();
  });
}

function idsIn(text: string): readonly string[] {
  try {
    return ids.parse(JSON.parse(text));
  } catch {
    throw requestUnreadable('query.views', text.slice(0, 80), `JSON: a list of at most ${String(MOST_SHOTS)} ids`);
  }
}
