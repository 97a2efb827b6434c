// Files and a folder → which of them changed. Watchers only wake; times and sizes say what changed, so nothing is missed however an
// editor saves (in place, or as a new file that takes the old one's name).
import { watch } from 'node:fs';
import type { FSWatcher } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';

export interface FileWatch {
  /**
   * Waits for a change and until writing has stopped, of files that matter: a log that is written all the time keeps nobody waiting.
   * @returns absolute paths, changed, new or gone; null once aborted
   */
  changes(matters?: (file: string) => boolean): Promise<readonly string[] | null>;
  /** These files instead; of those already watched, no change since the last one told is missed. */
  follow(files: readonly string[]): Promise<void>;
  close(): void;
}

/** Ours: editors and small builds write all of one save within this. */
const QUIET_MS = 150;
/** A look without being woken: network drives and some containers do not tell of changes (common practice). */
const LOOK_ANYWAY_MS = 2_000;

interface Where {
  readonly folder?: string;
  readonly files: readonly string[];
}

/** @param where `folder` with all below it but `node_modules` and names with a dot in front; `files` of anywhere, absolute */
export async function watchFiles(wanted: Where, signal: AbortSignal): Promise<FileWatch> {
  let where = wanted;
  let known = await lookAt(where);
  let wake: () => void = () => undefined;
  const stir = (): void => {
    wake();
  };
  const watchers = new Map<string, FSWatcher>();
  const watchFolders = (): void => {
    for (const folder of known.folders) {
      if (watchers.has(folder)) continue;
      try {
        const watcher = watch(folder, stir);
        // A folder that went away, or no more watches to be had: the look every so often remains.
        watcher.on('error', () => {
          watcher.close();
        });
        watchers.set(folder, watcher);
      } catch {
        // As above.
      }
    }
  };
  watchFolders();
  signal.addEventListener('abort', stir, { once: true });

  const wakened = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });

  return {
    async changes(matters = () => true) {
      for (;;) {
        if (signal.aborted) return null;
        const seen = await lookAt(where);
        const changed = differing(known.files, seen.files).filter(matters);
        if (changed.length === 0) await wakened(LOOK_ANYWAY_MS);
        else if (!differing(seen.files, (await lookAfter(where, QUIET_MS)).files).some(matters)) {
          known = seen;
          watchFolders();
          return changed;
        }
      }
    },
    async follow(files) {
      const added = await lookAt({ files });
      const kept = [...known.files].filter(([file]) => files.includes(file) || !where.files.includes(file));
      known = { files: new Map([...added.files, ...kept]), folders: new Set([...known.folders, ...added.folders]) };
      where = { ...where, files };
      watchFolders();
    },
    close() {
      signal.removeEventListener('abort', stir);
      for (const watcher of watchers.values()) watcher.close();
      watchers.clear();
      wake();
    },
  };
}

interface Look {
  /** Path → time and size. */
  readonly files: ReadonlyMap<string, string>;
  readonly folders: ReadonlySet<string>;
}

async function lookAt(where: Where): Promise<Look> {
  const files = new Map<string, string>();
  const folders = new Set(where.files.map((file) => path.dirname(file)));
  const take = async (file: string): Promise<void> => {
    const facts = await stat(file).catch(() => null);
    if (facts?.isFile() === true) files.set(file, `${String(facts.mtimeMs)} ${String(facts.size)}`);
  };
  const walk = async (folder: string): Promise<void> => {
    folders.add(folder);
    const entries = (await readdir(folder, { withFileTypes: true }).catch(() => [])).filter(
      ({ name }) => !name.startsWith('.') && name !== 'node_modules',
    );
    await Promise.all(
      entries.map((entry) => {
        const place = path.join(folder, entry.name);
        return entry.isDirectory() ? walk(place) : take(place);
      }),
    );
  };
  if (where.folder !== undefined) await walk(where.folder);
  await Promise.all(where.files.map(take));
  return { files, folders };
}

async function lookAfter(where: Where, ms: number): Promise<Look> {
  await new Promise((resolve) => setTimeout(resolve, ms));
  return lookAt(where);
}

function differing(before: Look['files'], after: Look['files']): readonly string[] {
  const all = new Set([...before.keys(), ...after.keys()]);
  return [...all].filter((file) => before.get(file) !== after.get(file)).sort();
}
