// Opens a store and says how that went. Arguments: store, access.
import { GloamError } from '../../../src/errors/gloam-error.ts';
import { openLedger } from '../../../src/ledger/ledger.ts';

const [store = '', access = ''] = process.argv.slice(2);
try {
  await using ledger = await openLedger(store, { access: access === 'read' || access === 'edit' ? access : 'own' });
  const [run] = await ledger.runs();
  const findings = run === undefined ? 0 : await ledger.countFindings(run.id);
  process.stdout.write(`opened ${run?.id ?? 'nothing'} ${String(findings)}\n`);
} catch (error) {
  process.stdout.write(error instanceof GloamError ? `refused ${error.code}\n` : `broke ${String(error)}\n`);
}
