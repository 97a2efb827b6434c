// gloam explain: a finding or a cause, from the pixel to the ramp, with the repair and what it does; without a name, all causes.
import type { Command } from 'commander';
import { wrongUse } from '../../errors/command-errors.ts';
import type { GloamError } from '../../errors/gloam-error.ts';
import type { RunReader } from '../../ledger/ports.ts';
import type { Cause, Finding } from '../../samples/finding.ts';
import { explainLines } from '../../triage/tell/explain-lines.ts';
import type { TryOutcome } from '../../triage/try-out.ts';
import { chooseRun, runWith } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { Io } from '../io.ts';
import { loadLedger, loadTryCause } from '../load.ts';
import { wholeFromOne } from '../option-values.ts';
import { showTried } from '../show-tried.ts';
import { swatch } from '../swatch.ts';
import { sumOfChecks } from '../../samples/what-counts.ts';
import { causeWords } from '../cause-words.ts';

interface ExplainOptions extends CommonOptions {
  readonly run?: string;
  readonly try?: boolean;
  readonly places: number;
}

export function explainCommand(run: Run): Command {
  return command<ExplainOptions>(
    'explain',
    'show the cause chain of a finding, or a cause',
    run,
    async (session, options, [asked]) => {
      const { io } = session;
      const { openLedger } = await loadLedger();
      await using ledger = await openLedger(await session.store(), { access: 'read' });
      if (asked === undefined) {
        const { id: all } = await chooseRun({ ledger, io }, options.run);
        const { totals } = await ledger.run(all);
        showCauses(io, await ledger.causes(all), sumOfChecks(totals?.findings ?? {}));
        return EXIT.done;
      }
      const has = async (run: string): Promise<boolean> => (await idsMeant(ledger, run, asked)).length > 0;
      const { id } = await runWith({ ledger, io }, options.run, has);
      const [name = asked, ...others] = await idsMeant(ledger, id, asked);
      if (others.length > 0) throw severalBegin(asked, [name, ...others]);
      const { finding, cause } = await whatIsMeant(ledger, id, name);
      const { items: places } =
        cause === undefined ? { items: [] } : await ledger.findings(id, { cause: cause.id, limit: options.places });
      if (options.try === true && cause !== undefined && cause.repair === undefined)
        throw wrongUse(
          `cause ${cause.id} proposes no repair: there is nothing to try.`,
          `What is known of it: gloam explain ${cause.id}`,
        );
      const tried = options.try === true && cause !== undefined ? await tryIt(cause.id) : undefined;
      if (io.json) io.result({ finding: finding ?? null, cause: cause ?? null, places, ...(tried === undefined ? {} : { tried }) });
      else {
        if (finding !== undefined) showFinding(io, finding);
        if (cause === undefined) io.say('No cause is known: nothing that could be changed explains it.');
        else showCause(io, cause, places);
        if (tried !== undefined) showTried(io, tried.outcome, tried.views);
      }
      return EXIT.done;

      async function tryIt(causeId: string): Promise<{ readonly outcome: TryOutcome | null; readonly views: number }> {
        const { tryCause } = await loadTryCause();
        const configuration = await session.configuration();
        io.note('Putting the repair on the live pages …');
        const outcome = await tryCause({ ...session, configuration, ledger, run: id, cause: causeId, now: new Date() });
        if (outcome === null)
          throw wrongUse(
            `cause ${causeId} does not come out of run ${id} under this configuration.`,
            'Render a new run first: gloam run.',
          );
        return outcome;
      }
    },
  )
    .argument('[finding]', 'id of a finding or of a cause, or how it begins; all causes are listed without one')
    .option('--run <id>', 'which run; the last whole one unless set, else the newest where that alone has the finding')
    .option('--places <n>', 'how many places of the cause are listed', wholeFromOne, 8)
    .option('--try', 'put the repair on the live pages and count what it mends and breaks');
}

/** So many are named where an id is cut too short. */
const MOST_NAMED = 4;

/** The one of this id, else those that begin so. */
async function idsMeant(ledger: RunReader, run: string, asked: string): Promise<readonly string[]> {
  if ((await ledger.finding(run, asked)) !== undefined || (await ledger.cause(run, asked)) !== undefined) return [asked];
  return /^[\da-f]+$/u.test(asked) ? ledger.idsFrom(run, asked, MOST_NAMED) : [];
}

function severalBegin(asked: string, ids: readonly string[]): GloamError {
  return wrongUse(`${asked}: several ids begin so, such as ${ids.slice(0, MOST_NAMED).join(', ')}.`, 'Give one more digit.');
}

async function whatIsMeant(
  ledger: RunReader,
  run: string,
  name: string,
): Promise<{ readonly finding?: Finding; readonly cause?: Cause }> {
  const finding = await ledger.finding(run, name);
  if (finding === undefined) {
    const cause = await ledger.cause(run, name);
    if (cause === undefined)
      throw wrongUse(`${name}: run ${run} has no such finding or cause.`, 'gloam explain without a name lists the causes.');
    return { cause };
  }
  const cause = finding.cause === null ? undefined : await ledger.cause(run, finding.cause);
  return cause === undefined ? { finding } : { finding, cause };
}

function showCauses(io: Io, causes: readonly Cause[], all: number): void {
  if (io.json) io.result(causes);
  else if (causes.length === 0) io.say('This run has no causes.');
  else {
    io.say(causeWords(causes, all));
    for (const { id, layer, findings, why } of causes)
      io.say(`${io.style('cyan', id)}  ${String(findings).padStart(5)}  ${layer.padEnd(7)} ${why}`);
  }
}

/** Token files have no state. */
function whereOf({ page, theme, state }: Pick<Finding, 'page' | 'theme' | 'state'>): string {
  return `${page} in ${theme}${state === '' ? '' : `, ${state}`}`;
}

function showFinding(io: Io, { check, level, page, theme, state, selector, message, status, since }: Finding): void {
  io.say(`${io.style('bold', check)} ${level}, ${status} since ${since}: ${whereOf({ page, theme, state })}`);
  io.say(`  ${message}`);
  io.say(`  ${io.style('dim', selector)}`);
  io.say();
}

function showCause(io: Io, cause: Cause, places: readonly Finding[]): void {
  for (const { kind, text, color, place } of explainLines(cause)) {
    const shown = color === undefined || !io.color ? text : `${text}  ${swatch(io, color)}`;
    const indent = kind === 'hop' ? '    ' : '  ';
    const line = `${indent}${kind === 'why' ? io.style('bold', shown) : shown}`;
    io.say(place === undefined ? line : `${line}  ${io.style('dim', place)}`);
  }
  io.say();
  for (const { page, theme, state, selector, id } of places)
    io.say(`  ${io.style('cyan', id)}  ${whereOf({ page, theme, state })}: ${selector}`);
  const rest = cause.findings - places.length;
  if (rest > 0) io.say(io.style('dim', `  and ${rest} more`));
}
