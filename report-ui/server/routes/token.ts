// One token or step.
import type { FastifyInstance } from 'fastify';
import type { PaintedPlace } from '../../api/token.ts';
import type { ServerContext } from '../context.ts';
import { narrow } from '../finding-index.ts';
import { route } from '../route.ts';
import { fitting } from '../slices.ts';
import type { PaintedAt } from '../sources.ts';
import { rankCause } from './causes.ts';

const FAULTS_SHOWN = 40;

export function tokenRoutes(app: FastifyInstance, { ledger, models, indexes, sources }: ServerContext): void {
  route(app, 'token', async ({ params, query: { token } }) => {
    const model = await models.of(params.run);
    const index = await indexes.of(model);
    const run = model.summary.id;
    const facts = await sources.token?.(run, token);
    const { order } = narrow(index, { token }, 'none');
    const about = new Set([...index.tokensOf].flatMap(([id, tokens]) => (tokens.has(token) ? [id] : [])));
    const faults = narrow(index, { token, check: 'token-fault' }, 'none').order.slice(0, FAULTS_SHOWN);
    const told = await ledger.numberedFindings(
      run,
      faults.flatMap((at) => index.numbers[at] ?? []),
    );
    return {
      token,
      known: facts !== undefined && facts !== null,
      ramp: facts?.ramp ?? null,
      themes: facts?.themes ?? [],
      users: facts?.users ?? [],
      findings: order.length,
      faults: told.map(({ id, theme, message }) => ({ id, theme, message })),
      causes: (await model.causes()).filter(({ cause }) => about.has(cause.id)).map(rankCause),
      places: fitting(await Promise.all((facts?.places ?? []).map(withFindings))),
    };

    async function withFindings(place: PaintedAt): Promise<PaintedPlace> {
      const view = model.views.find(({ id }) => id === place.view);
      const { items } = await ledger.findings(run, { view: place.view, status: ['new', 'known'], limit: 1_000 });
      return {
        ...place,
        shot: view?.shot ?? null,
        widthCssPx: view?.widthCssPx ?? 0,
        heightCssPx: view?.heightCssPx ?? 0,
        scale: view?.scale ?? 1,
        page: view?.page ?? '',
        theme: view?.theme ?? '',
        finding: items.find(({ key }) => key === place.key)?.id ?? null,
      };
    }
  });
}
