// Stores a made-up run view by view, or goes on with the one that was killed. Each line on stdout tells what is safely stored.
// Arguments: store, run id.
import { openLedger } from '../../../src/ledger/ledger.ts';
import { goOn, NIGHT_VIEWS } from '../night.ts';
import { newRun } from '../synthetic-run.ts';

const [store = '', id = ''] = process.argv.slice(2);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

say('started');
await using ledger = await openLedger(store, { access: 'own' });
const [latest] = await ledger.runs({ limit: 1 });
if (latest?.id !== id) await ledger.beginRun(newRun({ id, views: NIGHT_VIEWS }));
say('begun');
if (latest?.id !== id || latest.state === 'running') await goOn(ledger, id, say);
say('finished');
