// Holds a store until it is told to end. Arguments: store, how long to wait for it in ms.
import { openLedger } from '../../../src/ledger/ledger.ts';
import { GloamError } from '../../../src/errors/gloam-error.ts';
import { captured, newRun, planOf } from '../synthetic-run.ts';

const [store = '', waitMs = '0', id = 'held'] = process.argv.slice(2);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

try {
  const ledger = await openLedger(store, {
    access: 'own',
    doing: 'run',
    waitMs: Number(waitMs),
    onWait: ({ pid, doing }) => {
      say(`waiting for ${String(pid)} ${String(doing)}`);
    },
  });
  await ledger.beginRun(newRun({ id }));
  const [view] = planOf();
  if (view !== undefined) await ledger.storeView(id, captured(view));
  process.on('SIGTERM', () => {
    void ledger.close().then(() => process.exit(0));
  });
  say('held');
  setInterval(() => undefined, 1000);
} catch (error) {
  if (!(error instanceof GloamError)) throw error;
  say(`refused ${error.code} ${error.message}`);
}
