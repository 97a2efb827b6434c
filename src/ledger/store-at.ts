// What a configuration calls a store → the adapter of its engine. The only place that knows which engines there are.
import type { Store } from './database/engine.ts';
import { sqliteStore } from './sqlite/sqlite-store.ts';

/** @param at folder of the store */
export function storeAt(at: string): Store {
  return sqliteStore(at);
}
