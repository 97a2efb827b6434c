// gloam gate: judges a stored run against the launch criteria of its themes.
import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Command } from 'commander';
import { expectedName } from '../../config/nearest-name.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import type { FormInput } from '../../gate/forms/form.ts';
import { FORM_IDS, FORMS } from '../../gate/forms/table.ts';
import type { FormId } from '../../gate/forms/table.ts';
import { judgeRun } from '../../gate/judge-run.ts';
import type { RunReader } from '../../ledger/ports.ts';
import type { RunSummary } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { chooseRun } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import type { Io } from '../io.ts';
import { sourcesOf } from '../sources-of.ts';
import { loadLedger } from '../load.ts';
import { packageVersion } from '../package-facts.ts';
import { refuseForecast } from '../refuse-forecast.ts';

interface GateCommandOptions extends CommonOptions {
  readonly theme?: readonly string[];
  readonly run?: string;
  readonly forecast?: string;
  readonly since?: string;
  readonly form?: readonly string[];
  readonly forms?: string;
  readonly report?: string;
  readonly set: string;
}

export function gateCommand(run: Run): Command {
  const gather = (value: string, before: readonly string[] | undefined): readonly string[] => [...(before ?? []), value];
  return command<GateCommandOptions>('gate', 'judge a stored run against the launch criteria of a theme', run, judgeOnce)
    .option('--theme <name>', 'theme to judge, repeatable; all unless set', gather)
    .option('--run <id>', 'which run; the last whole one unless set')
    .option('--forecast <id>', 'judge a forecast: would its themes launch, as far as can be foretold')
    .option('--since <run>', 'allow what this run had already: its id, or "previous"')
    .option('--set <name>', "set of accepted pictures, after the one of the run's own label", 'main')
    .option('--form <name[=file]>', `${FORM_IDS.join(', ')}; to stdout, or to a file; repeatable`, gather)
    .option('--forms <folder>', 'write all forms into a folder')
    .option('--report <address>', 'address of the report server that links lead to');
}

/** Judges and writes the forms asked for. */
export async function judgeOnce(session: Session, options: GateCommandOptions): Promise<ExitCode> {
  const configuration = await session.configuration();
  const wanted = (options.form ?? []).map(parseForm);
  const { openLedger } = await loadLedger();
  await using ledger = await openLedger(await session.store(), { access: 'read' });
  const run = await pickRun({ ledger, io: session.io }, options);
  const themes = pickThemes(configuration, options.theme ?? [], run);
  const verdicts = await judgeRun(ledger, configuration, {
    run,
    themes,
    today: new Date().toISOString().slice(0, 10),
    set: options.set,
    ...(options.since === undefined ? {} : { since: options.since }),
  });
  const input: FormInput = {
    verdicts,
    version: packageVersion(),
    report: options.report ?? null,
    ...sourcesOf(configuration),
  };
  const files = [
    ...wanted.flatMap(({ id, file }) => (file === null ? [] : [{ id, file }])),
    ...(options.forms === undefined ? [] : FORM_IDS.map((id) => ({ id, file: path.join(options.forms ?? '', FORMS[id].file) }))),
  ];
  for (const { id, file } of files) {
    const target = path.resolve(session.folder, file);
    await mkdir(path.dirname(target), { recursive: true });
    await writeFile(target, FORMS[id].write(input));
    session.io.note(`written: ${target}`);
  }
  const shown = wanted.filter(({ file }) => file === null);
  if (session.io.json) session.io.result(JSON.parse(FORMS.json.write(input)));
  else if (shown.length > 0) for (const { id } of shown) session.io.print(FORMS[id].write(input));
  else session.io.print(FORMS.text.write({ ...input, style: (style, text) => session.io.style(style, text) }));
  return verdicts.every((verdict) => verdict.may) ? EXIT.done : EXIT.no;
}

function parseForm(text: string): { readonly id: FormId; readonly file: string | null } {
  const [name = '', ...rest] = text.split('=');
  const id = FORM_IDS.find((known) => known === name);
  if (id === undefined) {
    throw wrongUse(
      `--form: found "${name}"; expected ${expectedName(name, FORM_IDS)}`,
      `Forms are ${FORM_IDS.join(', ')}; gloam gate --help.`,
    );
  }
  return { id, file: rest.length === 0 ? null : rest.join('=') };
}

function pickThemes(configuration: Configuration, wanted: readonly string[], { foretold }: RunSummary): readonly string[] {
  const configured = configuration.themes.map((theme) => theme.name);
  const thought = foretold?.as;
  const known = thought === undefined ? configured : [...configured, thought];
  for (const name of wanted) {
    if (!known.includes(name)) {
      throw wrongUse(`--theme: found "${name}"; expected ${expectedName(name, known)}`, `${configuration.file} names the themes.`);
    }
  }
  // Of a forecast of a new theme that theme is what is asked about.
  if (wanted.length === 0) return thought === undefined ? known : [thought];
  return wanted;
}

async function pickRun(
  { ledger, io }: { readonly ledger: RunReader; readonly io: Io },
  { run: id, forecast }: GateCommandOptions,
): Promise<RunSummary> {
  if (forecast !== undefined) {
    if (id !== undefined) throw wrongUse('--run and --forecast: found both; expected one.', 'A forecast is named by its own id.');
    const foretold = await ledger.run(forecast);
    if (foretold.foretold === null)
      throw wrongUse(
        `--forecast ${forecast}: found a run that was rendered; expected a forecast.`,
        `gloam gate --run ${forecast} judges it.`,
      );
    return foretold;
  }
  const found = await chooseRun({ ledger, io }, id);
  refuseForecast(found);
  return found;
}
