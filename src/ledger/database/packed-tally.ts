// What a run came to, packed: names once, then rows of numbers, deflated. 160,000 findings of 5,000 views take some 100 KB.
import { deflateSync, inflateSync } from 'node:zlib';
import type { FindingStatus, Level } from '../../samples/finding.ts';
import type { GoneCount, RunTally } from '../records.ts';
import { fromJson, type Json, toJson } from './json-column.ts';

export interface StoredTally extends RunTally {
  readonly gone: readonly GoneCount[];
}

const LEVELS: readonly Level[] = ['error', 'warning', 'note'];
const STATUSES: readonly FindingStatus[] = ['new', 'known', 'exempt'];

interface Packed {
  readonly names: readonly string[];
  /** Five numbers each: page, theme, level, status, count. */
  readonly places: readonly number[];
  /** Seven: theme, check, level, status, owner, cause, count; -1 for nobody and none. */
  readonly kinds: readonly number[];
  /** Four: theme, check, owner, count. */
  readonly gone: readonly number[];
}

export function packTally({ places, kinds, gone }: StoredTally): Buffer {
  const codes = new Map<string, number>();
  const code = (name: string | null): number => {
    if (name === null) return -1;
    const known = codes.get(name) ?? codes.size;
    codes.set(name, known);
    return known;
  };
  const rows = {
    places: places.flatMap(({ page, theme, level, status, count }) => [code(page), code(theme), ...standing(level, status), count]),
    kinds: kinds.flatMap(({ theme, check, level, status, owner, cause, count }) => [
      code(theme),
      code(check),
      ...standing(level, status),
      code(owner),
      code(cause),
      count,
    ]),
    gone: gone.flatMap(({ theme, check, owner, count }) => [code(theme), code(check), code(owner), count]),
  };
  return deflateSync(toJson<Packed>({ names: [...codes.keys()], ...rows }));
}

export function unpackTally(body: Buffer): StoredTally {
  // The hash beside it vouches for the text.
  const packed = fromJson(inflateSync(body).toString('utf8') as Json<Packed>);
  const name = (code = -1): string => packed.names[code] ?? '';
  const orNull = (code = -1): string | null => packed.names[code] ?? null;
  return {
    places: inRows(packed.places, 5, ([page, theme, level, status, count = 0]) => ({
      page: name(page),
      theme: name(theme),
      ...standingOf(level, status),
      count,
    })),
    kinds: inRows(packed.kinds, 7, ([theme, check, level, status, owner, cause, count = 0]) => ({
      theme: name(theme),
      check: name(check),
      ...standingOf(level, status),
      owner: orNull(owner),
      cause: orNull(cause),
      count,
    })),
    gone: inRows(packed.gone, 4, ([theme, check, owner, count = 0]) => ({
      theme: name(theme),
      check: name(check),
      owner: orNull(owner),
      count,
    })),
  };
}

function standing(level: Level, status: FindingStatus): readonly [number, number] {
  return [LEVELS.indexOf(level), STATUSES.indexOf(status)];
}

function standingOf(level = 0, status = 0): { readonly level: Level; readonly status: FindingStatus } {
  return { level: LEVELS[level] ?? 'note', status: STATUSES[status] ?? 'known' };
}

function inRows<T>(numbers: readonly number[], width: number, row: (of: readonly number[]) => T): readonly T[] {
  const rows: T[] = [];
  for (let at = 0; at < numbers.length; at += width) rows.push(row(numbers.slice(at, at + width)));
  return rows;
}
