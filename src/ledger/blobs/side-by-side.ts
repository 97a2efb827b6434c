// Many files are moved, proved or dropped several at a time: most of what each takes is waiting for a disk or a server.

/** A file of a bucket takes some 20 ms, most of it on the way; more at once did not help on loopback (ours). */
const SIDE_BY_SIDE = 8;

/** Begins in the order of the items. @throws the first failure, once all that were begun have ended; no further one is begun */
export async function sideBySide<T>(
  items: Iterable<T> | AsyncIterable<T>,
  work: (item: T) => Promise<void>,
  atOnce = SIDE_BY_SIDE,
): Promise<void> {
  const underWay = new Set<Promise<void>>();
  const failures: unknown[] = [];
  for await (const item of items) {
    if (failures.length > 0) break;
    const one = work(item)
      .catch((error: unknown) => {
        failures.push(error);
      })
      .finally(() => underWay.delete(one));
    underWay.add(one);
    if (underWay.size >= atOnce) await Promise.race(underWay);
  }
  await Promise.all(underWay);
  if (failures.length > 0) throw failures[0];
}
