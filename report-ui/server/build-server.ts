// Puts the server together; it listens only when serve-reports.ts says so, and write-site.ts asks it without a socket.
import Fastify from 'fastify';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { GloamError } from '../../src/errors/gloam-error.ts';
import { nothingHere } from '../../src/errors/server-errors.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import { CHECK_IDS } from '../../src/checks/table.ts';
import type { Failure } from '../api/live.ts';
import type { Session } from '../api/runs.ts';
import { FIRST_QUESTION, askAhead } from './ahead.ts';
import { packJson } from './compress.ts';
import type { ServerContext } from './context.ts';
import { eventRoutes } from './events.ts';
import { givenAnswers } from './given-answers.ts';
import { guard, lockDown } from './guard.ts';
import { indexes } from './indexes.ts';
import { nights } from './nights.ts';
import { openApi } from './open-api.ts';
import { pageRoutesOf } from './page-files.ts';
import { findScaler, pictureRoutes } from './pictures.ts';
import { causeRoutes } from './routes/causes.ts';
import { changeRoutes } from './routes/changes.ts';
import { launchRoutes } from './routes/launch.ts';
import { listRoutes } from './routes/list.ts';
import { ownerRoutes } from './routes/owners.ts';
import { queueRoutes } from './routes/queue.ts';
import { benchRoutes } from './routes/bench.ts';
import { rampRoutes } from './routes/ramps.ts';
import { historyRoutes } from './routes/history.ts';
import { pageRoutes } from './routes/page.ts';
import { runRoutes } from './routes/runs.ts';
import { searchRoutes } from './routes/search.ts';
import { tokenRoutes } from './routes/token.ts';
import { tonightRoutes } from './routes/tonight.ts';
import { runModels } from './run-model.ts';
import type { ReportSources } from './sources.ts';

export interface BuildOptions {
  readonly ledger: Ledger;
  readonly form: Session['form'];
  readonly host: string;
  readonly readOnly: boolean;
  readonly secret?: string;
  /** Path the report lies under; `/` when absent. */
  readonly base?: string;
  readonly publicNames?: readonly string[];
  /** Version that is shown. */
  readonly gloam: string;
  readonly sources?: ReportSources;
  /** Files of the page by address. */
  readonly page: ReadonlyMap<string, Buffer>;
}

/** Room for a list of view ids; everything else is far smaller. */
const MOST_BODY = 512 * 1024;

const STATUS: Readonly<Record<string, number>> = {
  'run-unknown': 404,
  'view-unknown': 404,
  'nothing-here': 404,
  'blob-missing': 404,
  'cursor-unreadable': 400,
  'request-unreadable': 400,
  'request-refused': 403,
  'read-only-report': 403,
  'nothing-to-accept': 409,
  'acceptance-unknown': 404,
  'acceptance-undone': 409,
  'answer-unknown': 404,
  'exemption-there': 409,
  'bench-busy': 409,
  'bench-unable': 503,
};

export async function buildServer(options: BuildOptions): Promise<FastifyInstance> {
  const { ledger, base = '/', publicNames = [] } = options;
  const app = Fastify({
    bodyLimit: MOST_BODY,
    routerOptions: { maxParamLength: 4_096 },
    forceCloseConnections: true,
    // A proxy may hand paths on with the base or without it.
    rewriteUrl: ({ url = '/' }) => (base !== '/' && url.startsWith(base) ? url.slice(base.length - 1) : url),
    frameworkErrors: (error, _request, reply) => {
      lockDown(reply);
      void answerError(reply, error);
    },
    requestTimeout: 30_000,
  });
  packJson(app);
  app.setErrorHandler((error, _request, reply) => answerError(reply, error));
  app.setNotFoundHandler((request, reply) => answerError(reply, nothingHere(request.url)));
  const { token } = guard(app, { host: options.host, readOnly: options.readOnly, secret: options.secret, publicNames, base });
  const scaler = await findScaler();
  const session = {
    form: options.form,
    readOnly: options.readOnly,
    token,
    gloam: options.gloam,
    checks: CHECK_IDS.map((id) => ({ id, title: titleOf(id) })),
    sharp: scaler !== null,
  };
  const context: ServerContext = {
    ledger,
    models: runModels(ledger),
    indexes: indexes(ledger),
    answers: givenAnswers(ledger.folder),
    nights: nights(ledger),
    sources: options.sources ?? {},
    session,
  };
  runRoutes(app, context);
  tonightRoutes(app, context);
  pageRoutes(app, context);
  causeRoutes(app, context);
  listRoutes(app, context);
  historyRoutes(app, context);
  pictureRoutes(app, ledger, scaler, !options.readOnly);
  benchRoutes(app, context);
  rampRoutes(app, context);
  launchRoutes(app, context);
  const events = eventRoutes(app, ledger);
  changeRoutes(app, context, events);
  queueRoutes(app, context, events);
  searchRoutes(app, context);
  ownerRoutes(app, context);
  tokenRoutes(app, context);
  // Addresses of the page are relative: without the slash they would be those of the folder above.
  if (base !== '/') app.get(base.slice(0, -1), (_request, reply) => reply.redirect(base, 308));
  const document = openApi(options.gloam);
  app.get('/api/openapi.json', () => document);
  pageRoutesOf(app, options.page, FIRST_QUESTION);
  askAhead(app, context);
  return app;
}

/** `text-contrast` → `Text contrast`. */
function titleOf(id: string): string {
  const words = id.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Our own errors in full; of others no more than that something went wrong, since their texts may tell of the machine. */
function answerError(reply: FastifyReply, error: unknown): FastifyReply {
  void reply.header('cache-control', 'no-store').type('application/json; charset=utf-8');
  if (error instanceof GloamError) {
    const failure: Failure = { error: error.message, code: error.code, hint: error.hint };
    return reply.code(STATUS[error.code] ?? 500).send(failure);
  }
  const status = statusOf(error);
  const failure: Failure =
    status < 500
      ? { error: 'The request could not be read.', code: 'request-unreadable', hint: 'Send what the API document asks for.' }
      : {
          error: 'Something went wrong in the report server.',
          code: 'server-fault',
          hint: 'Try again; then look at the terminal it was started in.',
        };
  if (status >= 500) console.error(error);
  return reply.code(status).send(failure);
}

function statusOf(error: unknown): number {
  const status = typeof error === 'object' && error !== null && 'statusCode' in error ? error.statusCode : 500;
  return typeof status === 'number' && status >= 400 && status < 600 ? status : 500;
}
