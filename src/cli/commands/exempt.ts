// gloam exempt: lists what is exempt and how it stands; with a finding, writes an exemption as narrow as the finding.
import path from 'node:path';
import type { Command } from 'commander';
import { exemptionOf } from '../../checks/exemption-cover.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import { coverExemptions } from '../../gate/cover-exemptions.ts';
import { coverWords, exemptionScope, exemptionStanding, exemptionWarnings } from '../../gate/exemption-standing.ts';
import type { GateExemption } from '../../gate/facts.ts';
import { exemptionFor, WIDTHS } from '../../gate/exemption-for.ts';
import type { Width } from '../../gate/exemption-for.ts';
import type { Configuration } from '../../plan/configuration.ts';
import type { Finding } from '../../samples/finding.ts';
import { chooseRun, runWith } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import { loadLedger } from '../load.ts';

interface ExemptCommandOptions extends CommonOptions {
  readonly why?: string;
  readonly owner?: string;
  readonly until?: string;
  readonly logotype?: boolean;
  readonly any?: readonly Width[];
  readonly selector?: string;
  readonly run?: string;
}

export function exemptCommand(run: Run): Command {
  return command<ExemptCommandOptions>(
    'exempt',
    'list the exemptions, or exempt what a finding is about',
    run,
    async (session, options, [id]) => {
      const configuration = await session.configuration();
      if (id === undefined) await listExemptions(session, configuration, options.run);
      else await addExemption(session, configuration, id, options);
      return EXIT.done;
    },
  )
    .argument('[finding]', 'id of a finding; without it the exemptions are listed')
    .option('--why <text>', 'the reason; required with a finding')
    .option('--owner <name>', 'who answers for it')
    .option('--until <date>', 'last day it holds, YYYY-MM-DD')
    .option('--logotype', 'its text belongs to a logo or a brand name: no contrast is required of it')
    .option('--any <part>', `cover any ${WIDTHS.join(', any ')} instead of the finding's own; repeatable`, gatherWidths)
    .option('--selector <selector>', "cover these elements and what is in them, instead of the finding's own")
    .option(
      '--run <id>',
      'run the finding is looked up in; the last whole one unless set, else the newest where that alone has it',
    );
}

function gatherWidths(value: string, before: readonly Width[] | undefined): readonly Width[] {
  const width = WIDTHS.find((known) => known === value);
  if (width === undefined)
    throw wrongUse(`--any: found "${value}"; expected one of ${WIDTHS.join(', ')}`, 'gloam exempt --help tells what they mean.');
  return [...(before ?? []), width];
}

async function addExemption(
  session: Session,
  configuration: Configuration,
  id: string,
  options: ExemptCommandOptions,
): Promise<void> {
  const { why, owner, until, logotype, any = [], selector } = options;
  if (why === undefined || why.trim() === '') {
    throw wrongUse('an exemption needs a reason.', 'Give it with --why "…": it is shown wherever the exemption is.');
  }
  if (until !== undefined) checkDate(until);
  const finding = await findFinding(session, id, options.run);
  const known = configuration.exempt.find(
    (rule) => rule.why === finding.exemption && !(rule.until !== undefined && rule.until < today()),
  );
  if (finding.status === 'exempt' && known !== undefined)
    throw wrongUse(
      `finding ${id} is exempt already (${exemptionScope({ exemption: known })}): ${known.why}`,
      'Change that exemption, or take it out first; gloam exempt lists them.',
    );
  const exemption = exemptionFor(finding, {
    why,
    any,
    ...(owner === undefined ? {} : { owner }),
    ...(until === undefined ? {} : { until }),
    ...(logotype === undefined ? {} : { logotype }),
    ...(selector === undefined ? {} : { selector }),
  });
  const { writeExemption } = await import('../../config/write-exemption.ts');
  const file = await writeExemption(configuration, exemption, ({ exempt }) => {
    // Whether a selector of one's own matches the element is for its page to tell, in the next run.
    const marks = selector === undefined ? [] : exempt.flatMap((rule, index) => (rule.selector === selector ? [index] : []));
    const { measured, ...place } = finding;
    return exemptionOf({ ...place, code: String(measured['code'] ?? '') }, exempt, today(), marks) !== undefined;
  });
  if (session.io.json) {
    session.io.result({ file, exemption });
    return;
  }
  session.io.say(`${path.relative(session.folder, file)}: exempt now: ${exemptionScope({ exemption })}`);
  session.io.say(
    selector === undefined
      ? 'It was read back and covers the finding. It holds from the next gloam run on.'
      : `It holds from the next gloam run on, where the element of the finding is ${selector} or lies in it; that run tells if nothing does.`,
  );
  if (until === undefined) session.io.say('It has no end; --until YYYY-MM-DD gives it one.');
}

function checkDate(until: string): void {
  const valid = /^\d{4}-\d{2}-\d{2}$/.test(until) && new Date(`${until}T00:00:00Z`).toISOString().startsWith(until);
  if (!valid)
    throw wrongUse(
      `--until: found "${until}"; expected a date that exists, as YYYY-MM-DD`,
      'It is the last day the exemption holds.',
    );
  if (until < today())
    throw wrongUse(`--until: found "${until}", which is over; expected today or later`, 'It is the last day the exemption holds.');
}

async function findFinding(session: Session, id: string, runId: string | undefined): Promise<Finding> {
  const { openLedger } = await loadLedger();
  await using ledger = await openLedger(await session.store(), { access: 'read' });
  const has = async (run: string): Promise<boolean> => (await ledger.finding(run, id)) !== undefined;
  const run = await runWith({ ledger, io: session.io }, runId, has);
  const finding = await ledger.finding(run.id, id);
  if (finding === undefined) {
    throw wrongUse(`run ${run.id} has no finding "${id}".`, 'gloam export and the report show their ids; --run names another run.');
  }
  return finding;
}

async function listExemptions(session: Session, configuration: Configuration, runId: string | undefined): Promise<void> {
  const { io } = session;
  const standings = (await covered(session, configuration, runId)).map((exemption) => exemptionStanding(exemption, today()));
  if (io.json) {
    io.result({ exemptions: standings.map(({ exemption, ...standing }) => ({ ...exemption, ...standing })) });
    return;
  }
  const expired = standings.filter(({ state }) => state === 'expired').length;
  const ending = standings.filter(({ state }) => state === 'ending').length;
  const idle = standings.filter((standing) => standing.idle).length;
  io.say(
    `${count(standings.length, 'exemption')}: ${String(expired)} over, ${String(ending)} ending soon, ${String(idle)} covering nothing`,
  );
  for (const { exemption, state, daysLeft } of standings) {
    const end = exemption.until === undefined ? 'no end' : `until ${exemption.until}`;
    const left =
      daysLeft === null ? '' : daysLeft < 0 ? ` (over for ${count(-daysLeft, 'day')})` : ` (${count(daysLeft, 'day')} left)`;
    io.say();
    io.say(io.style(state === 'expired' ? 'red' : state === 'ending' ? 'yellow' : 'bold', exemptionScope({ exemption })));
    io.say(`  ${exemption.why}`);
    io.say(
      `  ${end}${left}; ${exemption.owner === undefined ? 'no owner' : `owner ${exemption.owner}`}; covers ${coverWords(exemption.covers)}`,
    );
  }
  const warnings = exemptionWarnings(standings);
  if (warnings.length > 0) io.say();
  for (const warning of warnings) io.say(`${io.style('yellow', '!')} ${warning}`);
}

/** Without a store there is no run to tell what they cover. */
async function covered(
  session: Session,
  configuration: Configuration,
  runId: string | undefined,
): Promise<readonly GateExemption[]> {
  const unknown = configuration.exempt.map((exemption) => ({ ...exemption, covers: null }));
  const store = await session.store();
  const { openLedger, storeExists } = await loadLedger();
  if (!(await storeExists(store))) return unknown;
  await using ledger = await openLedger(store, { access: 'read' });
  if (runId === undefined && (await ledger.latestRun()) === undefined) return unknown;
  const run = await chooseRun({ ledger, io: session.io }, runId);
  return await coverExemptions(ledger, run, configuration.exempt);
}

function today(): string {
  return new Date().toISOString().slice(0, 10);
}
