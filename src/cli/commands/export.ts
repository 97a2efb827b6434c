// gloam export: writes a stored run as the files that scripts read.
import path from 'node:path';
import type { Command } from 'commander';
import { chooseRun } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { count } from '../io.ts';
import { loadExportRun, loadLedger, loadReport } from '../load.ts';

interface ExportCommandOptions extends CommonOptions {
  readonly run?: string;
  readonly samples?: boolean;
  readonly site?: boolean;
}

export function exportCommand(run: Run): Command {
  return command<ExportCommandOptions>(
    'export',
    'write a stored run as files for scripts',
    run,
    async (session, options, [folder]) => {
      if (options.site === true) return writeReport(session, options.run, folder);
      const [{ exportJudged }, { openLedger }] = await Promise.all([loadExportRun(), loadLedger()]);
      const target = path.resolve(session.folder, folder ?? 'gloam-export');
      await using ledger = await openLedger(await session.store(), { access: 'read' });
      const { id } = await chooseRun({ ledger, io: session.io }, options.run);
      const receipt = await exportJudged(ledger, id, target, options.samples ?? false);
      if (session.io.json) session.io.result({ run: id, ...receipt });
      else {
        const parts = [count(receipt.views, 'view'), count(receipt.findings, 'finding'), count(receipt.causes, 'cause')];
        if (options.samples === true) parts.push(count(receipt.samples, 'sample'));
        session.io.say(`${target}: run ${id}, ${parts.join(', ')}`);
      }
      return EXIT.done;
    },
  )
    .argument('[folder]', 'where to; made when missing; gloam-export, or gloam-report with --site, unless set')
    .option('--run <id>', 'which run; the last whole one unless set')
    .option('--samples', 'write samples.ndjson too')
    .option('--site', 'write the report itself, as a folder that opens from disk or any static host');
}

async function writeReport(session: Session, run: string | undefined, folder: string | undefined): Promise<ExitCode> {
  const { reportSources, writeSite } = await loadReport();
  const store = await session.store();
  const configuration = await session.configurationIfAny();
  const site = await writeSite({
    store,
    folder: path.resolve(session.folder, folder ?? 'gloam-report'),
    ...(run === undefined ? {} : { run }),
    ...(configuration === null ? {} : { sources: reportSources(configuration, store) }),
  });
  if (session.io.json) session.io.result(site);
  else session.io.say(`${site.index}: ${count(site.files, 'file')}, ${(site.bytes / 1e6).toFixed(1)} MB`);
  return EXIT.done;
}
