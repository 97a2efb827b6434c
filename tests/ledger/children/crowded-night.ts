// A run on a disk without room: stores until it is full, then goes on once there is room again.
// Arguments: an empty small disk, KB to leave free, folder for the export. Prints one JSON line.
import { rm, statfs, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { GloamError } from '../../../src/errors/gloam-error.ts';
import { openLedger } from '../../../src/ledger/ledger.ts';
import { exported } from '../exported.ts';
import { goOn, NIGHT_VIEWS } from '../night.ts';
import { newRun } from '../synthetic-run.ts';

const [disk = '', freeKb = '0', out = ''] = process.argv.slice(2);
const store = join(disk, 'store');
const errors: string[] = [];
const stored: string[] = [];

async function tryNight(): Promise<void> {
  try {
    await using ledger = await openLedger(store, { access: 'own' });
    const [latest] = await ledger.runs({ limit: 1 });
    if (latest?.id !== 'n1') await ledger.beginRun(newRun({ id: 'n1', views: NIGHT_VIEWS }));
    if (latest?.id !== 'n1' || latest.state === 'running') await goOn(ledger, 'n1', (line) => stored.push(line));
  } catch (error) {
    errors.push(error instanceof GloamError ? error.code : String(error));
  }
}

const { bavail, bsize } = await statfs(disk);
await writeFile(join(disk, 'ballast'), Buffer.alloc(bavail * bsize - Number(freeKb) * 1024));
await tryNight();
const before = stored.length;
await rm(join(disk, 'ballast'));
await tryNight();
await using ledger = await openLedger(store, { access: 'own' });
const hashes = await exported(ledger, 'n1', out);
process.stdout.write(`${JSON.stringify({ errors, before, stored: [...new Set(stored)].length, hashes })}\n`);
