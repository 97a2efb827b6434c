// Statements that hold together: in the transaction that is open already, else in one of their own.
import type { Kysely, Transaction } from 'kysely';
import type { LedgerContext } from './ledger-context.ts';
import type { LedgerSchema } from './schema.ts';

/** What they point at is not pruned meanwhile. */
export function together<T>(
  { db, engine }: Pick<LedgerContext, 'db' | 'engine'>,
  work: (trx: Transaction<LedgerSchema>) => Promise<T>,
): Promise<T> {
  if (isOpen(db)) return work(db);
  return db.transaction().execute(async (trx) => {
    await engine.dialect.pointing?.execute(trx);
    return work(trx);
  });
}

function isOpen(db: Kysely<LedgerSchema>): db is Transaction<LedgerSchema> {
  return db.isTransaction;
}
