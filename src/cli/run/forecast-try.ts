// A forecast's values on the live pages: rendered, judged, and held against what was foretold.
import { openApp } from '../../../runner/app/open-app.ts';
import type { OpenApp } from '../../../runner/app/open-app.ts';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { foldStates } from '../../checks/fold-states.ts';
import { standardOf, verdictOnSample } from '../../checks/verdict-on-sample.ts';
import type { Agreement, Verdicts } from '../../forecast/agreement.ts';
import { agreementOf, compareVerdicts, verdictsOf } from '../../forecast/agreement.ts';
import type { RunReader } from '../../ledger/ports.ts';
import { makePlan } from '../../plan/make-plan.ts';
import type { Finding } from '../../samples/finding.ts';
import type { Sample } from '../../samples/sample.ts';
import type { View } from '../../samples/view.ts';
import type { Wear } from '../../triage/try-out.ts';
import { propertiesUnder } from '../../triage/worn-properties.ts';
import { allOf } from '../choose-run.ts';
import { readAccess } from '../read-access.ts';
import type { Forecast } from './forecast-run.ts';
import { openSetting } from './forecast-run.ts';
import type { ForecastTokens } from './forecast-tokens.ts';
import { leavesBehind, renderWearing, viewsWith, wearing } from './render-worn.ts';
import type { WornFrom } from './render-worn.ts';

/** @throws GloamError where the app cannot be reached */
export async function openToTry(
  source: ForecastTokens['configuration']['app'],
  signal: AbortSignal,
): Promise<OpenApp & AsyncDisposable> {
  const app = await openApp(source, signal);
  return { ...app, [Symbol.asyncDispose]: () => app.close() };
}

/** @param app open already, and closed by the caller @param onView told of each view: done, of all @returns null where nothing of it shows on a page */
export async function tryForecast(
  from: Omit<WornFrom, 'configuration' | 'run'> & { readonly tokens: ForecastTokens; readonly forecast: Forecast },
  app: OpenApp,
  onView: (view: string, of: number) => void,
): Promise<Agreement | null> {
  const { ledger, tokens, forecast, signal } = from;
  const { configuration } = tokens;
  const { as, like } = forecast.run.foretold ?? {};
  const setting = await openSetting({ ledger, run: forecast.of, tokens });
  const access = (await readAccess(configuration, from))(app.origin);
  const pages = await discoverPages(configuration.pages, app.origin, signal, access);
  const known = new Set((await allOf((request) => ledger.views(forecast.run.id, request))).map(({ id }) => id));
  const { themes, viewports } = configuration;
  const plan = makePlan({ origin: app.origin, pages, themes, viewports }).filter(({ id }) => known.has(id));
  const wear = new Map(plan.map((view) => [view.id, wornIn(view)] as const));
  const views = viewsWith(plan, wear, configuration.reference);
  if (views.length === 0) return null;
  const today = forecast.run.startedAt.slice(0, 10);
  const standard = standardOf(forecast.run);
  const verdictsIn = (view: View, samples: readonly Sample[]): Verdicts =>
    verdictsOf(samples, (sample) => verdictOnSample(sample, view, standard));
  const verdicts: Agreement['verdicts'][] = [];
  const captured = new Map<string, readonly Sample[]>();
  const apart = await leavesBehind(ledger, forecast.of);
  const setup = { configuration, tokens: tokens.after, pages, access, signal, today, run: forecast.run.id, apart };
  const { found } = await renderWearing(setup, views, wear, ({ view, samples }) => {
    captured.set(view.id, samples);
    onView(view.id, views.length);
  });
  for (const view of views) {
    const samples = captured.get(view.id);
    if (samples === undefined) continue;
    const foretold = await ledger.samplesOf(forecast.run.id, view.id);
    verdicts.push(compareVerdicts(verdictsIn(view, foretold.samples), verdictsIn(view, samples)));
  }
  const foretold = await openFindings(ledger, forecast.run.id, new Set(captured.keys()));
  const open = foldStates(found).filter(({ status }) => status !== 'exempt');
  return agreementOf(captured.size, verdicts, { foretold, found: open });

  function wornIn(view: View): Wear | null {
    const theme = setting.index.themeAt(view.theme === as ? (like ?? configuration.reference) : view.theme);
    const moves = setting.movesIn(view.theme);
    return wearing(propertiesUnder(setting.index, theme, (token) => moves(theme, token) ?? null));
  }
}

async function openFindings(ledger: RunReader, run: string, views: ReadonlySet<string>): Promise<readonly Finding[]> {
  const all = await allOf((request) => ledger.findings(run, request));
  return all.filter(({ status, check, view }) => status !== 'exempt' && check !== 'token-fault' && views.has(view));
}
