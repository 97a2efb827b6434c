// Where a store is → the queue beside it. The only place that knows which libraries there are.
import { queueNeedsDatabase } from '../errors/queue-errors.ts';
import type { QueuePlace } from './queue-place.ts';
import type { WorkQueue } from './work-queue.ts';

/** @param place null: the store is a folder @throws queue-needs-database, store-unreachable */
export async function queueAt(place: QueuePlace | null, folder: string): Promise<WorkQueue> {
  if (place === null) throw queueNeedsDatabase(folder);
  const { openPgBossQueue } = await import('./pg-boss/pg-boss-queue.ts');
  return openPgBossQueue(place);
}
