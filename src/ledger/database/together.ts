// Statements that hold together: in the transaction that is open already, else in one of their own.
import type { Kysely, Transaction } from 'kysely';
import type { LedgerSchema } from './schema.ts';

export function together<T>(db: Kysely<LedgerSchema>, work: (trx: Transaction<LedgerSchema>) => Promise<T>): Promise<T> {
  return isOpen(db) ? work(db) : db.transaction().execute(work);
}

function isOpen(db: Kysely<LedgerSchema>): db is Transaction<LedgerSchema> {
  return db.isTransaction;
}
