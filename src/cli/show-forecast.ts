// A forecast, told in the terminal; and how it agrees with what the live pages show.
import type { Agreement } from '../forecast/agreement.ts';
import { sharesOf } from '../forecast/agreement.ts';
import type { CountCell } from '../ledger/records.ts';
import type { Cause, Finding } from '../samples/finding.ts';
import { untoldOf } from './forecast-report.ts';
import { count } from './io.ts';
import type { Io } from './io.ts';
import type { Forecast } from './run/forecast-run.ts';
import { showCauses, showCells } from './run/show-summary.ts';

/** Of each kind that is listed. */
const MOST_LISTED = 6;

export function showForecast(io: Io, forecast: Forecast, causes: readonly Cause[], cells: readonly CountCell[]): void {
  const { run, of, compared, samples } = forecast;
  const { as, like } = run.foretold ?? {};
  const what = as === undefined ? '' : `, with the theme ${as}, which is like ${like ?? run.reference}`;
  io.say(`${io.style('bold', `Forecast ${run.id}`)} of run ${of}${what}: nothing was rendered`);
  io.say(`${count(samples.foretold, 'sample')} recoloured, ${String(samples.same)} as they were`);
  showUntold(io, forecast);
  const { fresh, known, gone } = compared;
  const all = fresh.length + known.length;
  showCauses(io, causes, all);
  io.say();
  io.say(
    `${io.style('bold', count(all, 'finding'))} foretold: ${String(fresh.length)} new, ${String(known.length)} known, ${String(gone.length)} gone`,
  );
  showCells(
    io,
    run.themes.map(({ name }) => name),
    cells,
  );
  showPlaces(io, 'New', fresh);
  showPlaces(io, 'Gone', gone);
}

function showUntold(io: Io, forecast: Forecast): void {
  for (const { words, samples } of untoldOf(forecast))
    io.say(io.style('yellow', `${count(samples, 'sample')} cannot be foretold and stay as they were seen: ${words}`));
  if (forecast.failed > 0)
    io.say(io.style('yellow', `${count(forecast.failed, 'view')} of the run failed: nothing is foretold of them`));
}

function showPlaces(io: Io, title: string, findings: readonly Finding[]): void {
  if (findings.length === 0) return;
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = `${finding.check} in ${finding.theme}`;
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  io.say();
  io.say(io.style('bold', title));
  const most = [...groups].toSorted(([, one], [, other]) => other.length - one.length);
  for (const [key, [first, ...rest]] of most.slice(0, MOST_LISTED)) {
    if (first === undefined) continue;
    const more = rest.length === 0 ? '' : io.style('dim', ` and ${String(rest.length)} more`);
    io.say(`  ${key}: ${first.page}: ${first.message}${more}`);
  }
  if (most.length > MOST_LISTED) io.say(io.style('dim', `  and ${String(most.length - MOST_LISTED)} more kinds`));
}

export function showAgreement(io: Io, agreement: Agreement | null): void {
  io.say();
  if (agreement === null) {
    io.say('Nothing of it shows on a page: no custom property carries what changes.');
    return;
  }
  const shares = sharesOf(agreement);
  const { verdicts, findings, views } = agreement;
  io.say(
    `${io.style('bold', 'Tried')} on ${count(views, 'view')}: ${percent(shares.verdicts)} of ${count(verdicts.compared, 'verdict')} on contrast are equal, ${percent(shares.findings)} of all findings`,
  );
  if (verdicts.unmatched > 0)
    io.say(io.style('dim', `${count(verdicts.unmatched, 'text or graphic', 'texts and graphics')} are on one side only`));
  const width = Math.max(...findings.map(({ check }) => check.length), 0);
  io.say(io.style('dim', `  ${' '.repeat(width)}  foretold and found   only foretold   only found`));
  for (const { check, both, onlyForetold, onlyFound } of findings)
    io.say(
      `  ${check.padEnd(width)}  ${String(both).padStart(18)}${String(onlyForetold).padStart(16)}${String(onlyFound).padStart(13)}`,
    );
  showPlaces(io, 'Only foretold', agreement.onlyForetold);
  showPlaces(io, 'Only found', agreement.onlyFound);
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}
