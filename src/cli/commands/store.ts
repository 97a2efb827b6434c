// gloam store copy: everything from one store into another, whatever engines they are on.
import { Command } from 'commander';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import { loadCopy } from '../load.ts';
import { storePlace, storeSecrets } from '../store-place.ts';
import type { StorePlace } from '../../ledger/store-at.ts';

interface CopyOptions extends CommonOptions {
  readonly blobs?: string;
}

export function storeCommand(run: Run): Command {
  const copy = command<CopyOptions>(
    'copy',
    'copy a whole store into an empty one, a folder or a database',
    run,
    async (session, options, args) => {
      const [from = '', to = ''] = args;
      const { copyStore } = await loadCopy();
      const receipt = await copyStore(await storeNamed(session, from), await storeNamed(session, to, options.blobs), (said) => {
        session.io.note(said);
      });
      if (session.io.json) session.io.result(receipt);
      else {
        const size = `${count(receipt.blobs, 'file')}, ${(receipt.bytes / 1e6).toFixed(1)} MB`;
        session.io.say(`${count(receipt.runs, 'run')} copied: ${count(receipt.rows, 'row')}, ${size}.`);
      }
      return EXIT.done;
    },
  )
    .argument('<from>', 'folder, or postgres://…')
    .argument('<to>', 'the same; nothing may be in it')
    .option('--blobs <place>', 'where the files of <to> go if that is a database: a folder, or s3://BUCKET/PREFIX');
  return new Command('store').description('move a store').addCommand(copy.helpOption('--help', 'print this help').exitOverride());
}

async function storeNamed(session: Session, text: string, blobs?: string): Promise<StorePlace> {
  const { env, folder: cwd } = session;
  const place = await storePlace({ option: text, blobs, env, cwd, configured: () => session.configuration() });
  session.secrets.learn(storeSecrets(place, env));
  return place;
}
