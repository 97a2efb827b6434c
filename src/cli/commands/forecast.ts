// gloam forecast: what a run would find with other token files, from the samples of a stored run.
import path from 'node:path';
import type { Command } from 'commander';
import { Option } from 'commander';
import { LEVELS } from '../../samples/finding.ts';
import type { Level } from '../../samples/finding.ts';
import { chooseRun } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { loadExportRun, loadForecast, loadLedger } from '../load.ts';
import { count } from '../io.ts';
import { showProgress } from '../progress.ts';
import type { Progress } from '../progress.ts';
import { refuseForecast } from '../refuse-forecast.ts';

/** Between plain lines: a try takes minutes, not hours, and the report's bench reads them. */
const TRY_EVERY_MS = 1_000;

interface ForecastOptions extends CommonOptions {
  readonly tokens?: readonly string[];
  readonly as?: string;
  readonly like?: string;
  readonly run?: string;
  readonly try?: boolean;
  readonly export?: string;
  readonly samples?: boolean;
  readonly failOn?: Level;
}

export function forecastCommand(run: Run): Command {
  return command<ForecastOptions>(
    'forecast',
    'foretell what other token values would do, from the samples of a stored run',
    run,
    foretell,
  )
    .option(
      '--tokens <file...>',
      'token files as they would be; each stands for the configured file of its name. Those configured, as they are now, unless set',
    )
    .option('--as <name>', 'a new theme, made of these files; the themes there are stay as they are')
    .option('--like <theme>', 'the theme that the new one is like, and whose pages it gets; the reference unless set')
    .option('--run <id>', 'which run is recoloured; the last whole one unless set')
    .option('--try', 'put the values on the live pages too, and say how far what was foretold is found there')
    .option('--export <folder>', 'write the forecast as files for scripts')
    .option('--samples', 'with --export: write samples.ndjson too')
    .addOption(new Option('--fail-on <level>', 'exit code 1 where a finding of this level or above is foretold').choices(LEVELS));
}

async function foretell(session: Session, options: ForecastOptions): Promise<ExitCode> {
  const { io } = session;
  const configured = await session.configuration();
  const { forecastTokens, foretellRun, forecastReport, showForecast, showAgreement, openToTry, tryForecast } = await loadForecast();
  const given = (options.tokens ?? []).map((file) => path.resolve(session.folder, file));
  const like = options.as === undefined ? options.like : (options.like ?? configured.reference);
  const asked = { files: given, ...(options.as === undefined ? {} : { as: options.as }), ...(like === undefined ? {} : { like }) };
  const tokens = forecastTokens(configured, asked);
  const files = given.map((file) => path.relative(configured.folder, file).replaceAll(path.sep, '/'));
  // Where the app cannot be reached nothing is stored.
  await using app = options.try === true ? await openToTry(configured.app, session.signal) : undefined;
  const { openLedger } = await loadLedger();
  await using ledger = await openLedger(await session.store(), { access: 'own', doing: 'forecast', signal: session.signal });
  const source = await chooseRun({ ledger, io }, options.run);
  refuseForecast(source);
  const of = source.id;
  const forecast = await foretellRun({ ledger, run: of, tokens, asked, files, now: () => new Date() });
  const { env, secrets, signal } = session;
  const tried =
    app === undefined
      ? undefined
      : await tryForecast({ ledger, tokens, forecast, env, secrets, signal, now: new Date() }, app, progressOf(io));
  if (options.export !== undefined) {
    const { exportJudged } = await loadExportRun();
    const receipt = await exportJudged(
      ledger,
      forecast.run.id,
      path.resolve(session.folder, options.export),
      options.samples ?? false,
    );
    io.note(`Written: ${receipt.folder}: ${count(receipt.findings, 'finding')}, ${count(receipt.causes, 'cause')}`);
  }
  const causes = await ledger.causes(forecast.run.id);
  if (io.json) io.result(forecastReport(forecast, causes, tried));
  else {
    const cells = (await ledger.counts(forecast.run.id)).filter(({ status }) => status !== 'exempt');
    showForecast(io, forecast, causes, cells);
    if (tried !== undefined) showAgreement(io, tried);
  }
  if (options.failOn === undefined) return EXIT.done;
  const levels = LEVELS.slice(0, LEVELS.indexOf(options.failOn) + 1);
  const bad = await ledger.countFindings(forecast.run.id, { level: levels, status: ['new', 'known'] });
  return bad > 0 ? EXIT.no : EXIT.done;
}

function progressOf(io: Session['io']): (view: string, of: number) => void {
  io.note('Putting the values on the live pages …');
  let progress: Progress | undefined;
  let done = 0;
  return (view, of) => {
    progress ??= showProgress(io, of, { plainEveryMs: TRY_EVERY_MS });
    progress.step(view, false);
    done += 1;
    if (done === of) progress.end();
  };
}
