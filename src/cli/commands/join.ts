// gloam join: parts of one plan, each rendered into a store of its own, become one run of this store.
import path from 'node:path';
import type { Command } from 'commander';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import { loadJoin } from '../load.ts';

export function joinCommand(run: Run): Command {
  return command<CommonOptions>(
    'join',
    'make one run of parts that were rendered apart (run --part)',
    run,
    async (session, _options, stores) => {
      const { joinStores } = await loadJoin();
      const joined = await joinStores({
        configuration: await session.configuration(),
        store: await session.store(),
        parts: stores.map((store) => path.resolve(session.folder, store)),
        signal: session.signal,
        now: () => new Date(),
      });
      if (session.io.json) session.io.result(joined);
      else session.io.say(`run ${joined.id}: ${count(joined.totals?.views ?? 0, 'view')} of ${count(stores.length, 'part')}`);
      return EXIT.done;
    },
  ).argument('<stores...>', 'store folders of the parts');
}
