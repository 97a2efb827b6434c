// A stored run → the files that scripts read, written row by row so that a run of any size fits into memory. Same run, same bytes.
import { createWriteStream } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Finding } from '../../samples/finding.ts';
import type { GraphicSample, TextSample } from '../../samples/sample.ts';
import type { SampleVerdict } from '../../samples/sample-verdict.ts';
import type { ViewRef } from '../../samples/view.ts';
import { runNotFinished } from '../../errors/ledger-errors.ts';
import { exportedSample } from './exported-sample.ts';
import { allOf } from '../database/cursor.ts';
import type { RunReader } from '../ports.ts';
import type { RunSummary, StoredView } from '../records.ts';

export interface ExportOptions {
  /** Also write samples.ndjson. */
  readonly samples: boolean;
  /** How texts and graphics of a view fare under what the run judged by; samples themselves hold facts only. */
  readonly verdictsIn: (run: RunSummary) => (sample: TextSample | GraphicSample, view: ViewRef) => SampleVerdict;
}

/** What was written, for the summary. */
export interface ExportReceipt {
  readonly folder: string;
  readonly views: number;
  readonly findings: number;
  readonly samples: number;
  readonly causes: number;
}

/** @param folder is made; files of these names in it are replaced @throws run-unknown, run-not-finished, blob-missing … */
export async function exportRun(ledger: RunReader, runId: string, folder: string, options: ExportOptions): Promise<ExportReceipt> {
  const run = await ledger.run(runId);
  const { totals } = run;
  if (totals === null) throw runNotFinished(runId);
  await mkdir(join(folder, 'shots'), { recursive: true });
  const views: StoredView[] = [];
  for await (const view of allOf((request) => ledger.views(runId, request))) views.push(view);

  const shots = new Set(views.flatMap((view) => (view.shot === null ? [] : [view.shot])));
  for (const shot of shots) await writeFile(join(folder, shotName(shot)), await ledger.blob(shot));
  const counts = {
    findings: await writeLines(join(folder, 'findings.ndjson'), findingLines(ledger, runId)),
    samples: options.samples
      ? await writeLines(join(folder, 'samples.ndjson'), sampleLines(ledger, runId, views, options.verdictsIn(run)))
      : 0,
    causes: await writeLines(join(folder, 'causes.ndjson'), await ledger.causes(runId)),
  };
  // Last, so that a folder with a run.json is a whole export.
  await writeFile(join(folder, 'run.json'), `${JSON.stringify(runFile(run, views), null, 2)}\n`);
  return { folder, views: views.length, ...counts };
}

const shotName = (hash: string): string => `shots/${hash}.png`;

function runFile(run: RunSummary, views: readonly StoredView[]): object {
  return {
    format: 'gloam-run/1',
    id: run.id,
    startedAt: run.startedAt,
    finishedAt: run.finishedAt,
    gloam: run.gloam,
    browser: run.browser,
    reference: run.reference,
    themes: run.themes.map((theme) => theme.name),
    views: views.map((view) => ({
      id: view.id,
      page: view.page,
      theme: view.theme,
      state: view.state,
      viewport: view.viewport,
      url: view.url,
      status: view.status === 'captured' ? 'captured' : 'failed',
      ...(view.status === 'captured' ? {} : { error: view.error ?? 'never captured' }),
      ...(view.shot === null ? {} : { shot: shotName(view.shot) }),
      ms: view.ms ?? 0,
    })),
    totals: run.totals,
  };
}

async function* findingLines(ledger: RunReader, runId: string): AsyncGenerator<object> {
  for await (const finding of allOf((request) => ledger.findings(runId, request))) yield exportedFinding(finding);
}

/** The members that scripts rely on, in their order. */
function exportedFinding(finding: Finding): object {
  const { id, check, level, view, page, theme, state, viewport, selector, rect, message, measured, expected, since, status } =
    finding;
  return {
    ...{ id, check, level, view, page, theme, state, viewport, selector, rect, message, measured, expected, since, status },
    ...(finding.owner === undefined ? {} : { owner: finding.owner }),
    cause: finding.cause,
  };
}

async function* sampleLines(
  ledger: RunReader,
  runId: string,
  views: readonly StoredView[],
  verdictOn: ReturnType<ExportOptions['verdictsIn']>,
): AsyncGenerator<object> {
  for (const view of views) {
    if (view.status !== 'captured') continue;
    const { samples } = await ledger.samplesOf(runId, view.id);
    for (const sample of samples) {
      const line = exportedSample(sample, (judged) => verdictOn(judged, view));
      if (line !== undefined) yield line;
    }
  }
}

async function writeLines(path: string, rows: AsyncIterable<object> | Iterable<object>): Promise<number> {
  let count = 0;
  async function* lines(): AsyncGenerator<string> {
    for await (const row of rows) {
      count += 1;
      yield `${JSON.stringify(row)}\n`;
    }
  }
  await pipeline(Readable.from(lines()), createWriteStream(path));
  return count;
}
