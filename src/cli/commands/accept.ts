// gloam accept: pictures of a run become the accepted ones; what was accepted can be listed, undone, and carried to another store.
import { userInfo } from 'node:os';
import path from 'node:path';
import type { Command } from 'commander';
import type { Baselines, RunReader } from '../../ledger/ports.ts';
import type { Acceptance } from '../../ledger/records.ts';
import { allOf, needRun } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import type { Io } from '../io.ts';
import { loadLedger } from '../load.ts';
import { isNarrowed, selectViews, takesSelection } from '../selection.ts';
import type { Selection } from '../selection.ts';

interface AcceptOptions extends CommonOptions, Selection {
  readonly run?: string;
  readonly set: string;
  readonly note: string;
  readonly who?: string;
  readonly undo?: string;
  readonly list?: boolean;
  readonly write?: string;
  readonly read?: string;
}

export function acceptCommand(run: Run): Command {
  const made = command<AcceptOptions>('accept', 'make the pictures of a run the accepted ones', run, async (session, options) => {
    const { openLedger } = await loadLedger();
    await using ledger = await openLedger(await session.store(), { access: accessFor(options), doing: 'accept' });
    const act = { who: options.who ?? userInfo().username, note: options.note, at: new Date().toISOString() };
    if (options.list === true) {
      showList(session.io, await ledger.acceptances(options.set));
    } else if (options.undo !== undefined) {
      tell(session.io, await ledger.undoAcceptance(options.undo, { by: act.who, at: act.at }), 'undone');
    } else if (options.write !== undefined) {
      const folder = path.resolve(session.folder, options.write);
      const pictures = await ledger.exportAccepted(options.set, folder);
      if (session.io.json) session.io.result({ folder, pictures });
      else session.io.say(`${folder}: ${count(pictures, 'accepted picture')} of the set ${options.set}`);
    } else if (options.read !== undefined) {
      tell(
        session.io,
        await ledger.importAccepted(path.resolve(session.folder, options.read), { ...act, as: options.set }),
        'accepted',
      );
    } else {
      tell(session.io, await acceptViews(ledger, options, act), 'accepted');
    }
    return EXIT.done;
  });
  return takesSelection(made)
    .option('--run <id>', 'which run; the latest finished one unless set')
    .option('--set <name>', 'accepted set: a branch name or a label', 'main')
    .option('--note <text>', 'why', '')
    .option('--who <name>', 'who accepts; the name of your account unless set')
    .option('--list', 'what was accepted, newest first')
    .option('--undo <id>', 'take an acceptance back')
    .option('--write <folder>', 'write the accepted set as files, for another store')
    .option('--read <folder>', 'accept what --write has written');
}

/** Taking in pictures of another store needs this one alone. */
function accessFor(options: AcceptOptions): 'read' | 'edit' | 'own' {
  if (options.read !== undefined) return 'own';
  return options.list === true || options.write !== undefined ? 'read' : 'edit';
}

async function acceptViews(
  ledger: RunReader & Baselines,
  options: AcceptOptions,
  act: { readonly who: string; readonly note: string; readonly at: string },
): Promise<Acceptance> {
  // Pictures are accepted view by view: what was looked at last is meant, also where it was a part only.
  const run = options.run ?? needRun(await ledger.latestRun()).id;
  if (!isNarrowed(options)) return ledger.accept(run, { set: options.set, ...act, views: 'all' });
  const views = await allOf((request) => ledger.views(run, request));
  const chosen = selectViews(views, options).filter((view) => view.status === 'captured');
  return ledger.accept(run, { set: options.set, ...act, views: chosen.map((view) => view.id) });
}

function tell(io: Io, acceptance: Acceptance, what: 'accepted' | 'undone'): void {
  if (io.json) io.result(acceptance);
  else io.say(`${acceptance.id}: ${count(acceptance.views, 'picture')} ${what} in the set ${acceptance.set}, by ${acceptance.who}`);
}

function showList(io: Io, acceptances: readonly Acceptance[]): void {
  if (io.json) io.result(acceptances);
  else if (acceptances.length === 0) io.say('Nothing was accepted yet.');
  else {
    for (const { id, at, who, views, note, undone } of acceptances) {
      const end = undone === null ? '' : io.style('dim', `  undone ${undone.at} by ${undone.by}`);
      io.say(`${id}  ${at}  ${count(views, 'picture')}  ${who}  ${note}${end}`);
    }
  }
}
