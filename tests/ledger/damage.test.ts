import { blobPath } from '../../src/ledger/blobs/folder-blobs.ts';
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, chown, cp, mkdir, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { GloamError } from '../../src/errors/gloam-error.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { exportJudged } from '../../src/cli/run/export-judged.ts';
import { type Ledger, openLedger } from '../../src/ledger/ledger.ts';
import { bundleChild, startChild } from './child-process.ts';
import { exported } from './exported.ts';
import { goOn, NIGHT_VIEWS } from './night.ts';
import { newRun } from './synthetic-run.ts';
import { type TempFolder, tempFolder } from './temp-folder.ts';

const now = '2031-03-06T04:00:00.000Z';
const words = { set: 'main', who: 'harbour master', note: '', at: '2031-03-05T08:00:00.000Z' };

let folder: TempFolder;
/** A store with two finished runs, the first of them accepted. Each test damages a copy. */
let whole: string;
let undisturbed: Readonly<Record<string, string>>;

async function night(ledger: Ledger, id: string): Promise<void> {
  await ledger.beginRun(newRun({ id, views: NIGHT_VIEWS }));
  await goOn(ledger, id, () => undefined);
}

beforeAll(async () => {
  folder = await tempFolder();
  whole = join(folder.path, 'whole');
  await using ledger = await openLedger(whole, { access: 'own' });
  await night(ledger, 'n1');
  undisturbed = await exported(ledger, 'n1', join(folder.path, 'out-whole'));
  await ledger.accept('n1', { ...words, views: 'all' });
  await night(ledger, 'n2');
});
afterAll(() => folder[Symbol.asyncDispose]());

async function copyOf(name: string): Promise<string> {
  const store = join(folder.path, name);
  await cp(whole, store, { recursive: true });
  return store;
}

async function damage(path: string, at: number, bytes: Buffer): Promise<void> {
  const content = await readFile(path);
  bytes.copy(content, at);
  await writeFile(path, content);
}

describe('a damaged blob', () => {
  const CASES = [
    { name: 'is cut short', kind: 'blob-damaged', harm: (path: string) => truncate(path, 10) },
    { name: 'is empty', kind: 'blob-damaged', harm: (path: string) => truncate(path, 0) },
    { name: 'has one bit turned', kind: 'blob-damaged', harm: (path: string) => damage(path, 30, Buffer.from([0xff])) },
    { name: 'is gone', kind: 'blob-missing', harm: (path: string) => rm(path) },
  ] as const;
  test.each(CASES)('that $name: is named, costs nothing else, and comes back with the next run', async ({ name, kind, harm }) => {
    const store = await copyOf(`blob ${name}`);
    const [first, second] = NIGHT_VIEWS;
    let shot = '';
    {
      await using ledger = await openLedger(store, { access: 'own' });
      shot = (await ledger.view('n1', first?.id ?? '')).shot ?? '';
      await harm(blobPath(ledger.folder, shot));
      await expect(ledger.blob(shot)).rejects.toMatchObject({ code: kind, data: { hash: shot } });
      await expect(exportJudged(ledger, 'n1', join(folder.path, 'out'), false)).rejects.toMatchObject({ code: kind });
      // Everything else of the view, and the other views, are as they were.
      expect((await ledger.samplesOf('n1', first?.id ?? '')).samples.length).toBeGreaterThanOrEqual(20);
      expect((await ledger.blob((await ledger.view('n1', second?.id ?? '')).shot ?? '')).length).toBeGreaterThan(0);
    }
    const health = await examineStore(store, { mend: true, now });
    expect(health.faults).toHaveLength(1);
    expect(health.faults[0]).toMatchObject({ kind, where: expect.stringContaining(shot) as unknown });
    expect(health.faults[0]?.message).toContain(`shot of ${first?.id ?? ''} as accepted in main, ${first?.id ?? ''} in run n1`);
    expect(existsSync(join(store, 'damaged', shot))).toBe(kind === 'blob-damaged');

    // The next run of the unchanged view heals the older ones too.
    await using ledger = await openLedger(store, { access: 'own' });
    await night(ledger, 'n3');
    expect(await exported(ledger, 'n1', join(folder.path, `out ${name}`))).toEqual(undisturbed);
    await ledger.close();
    expect((await examineStore(store, { mend: false, now })).faults).toEqual([]);
  });

  test('of samples is told apart from a picture', async () => {
    const store = await copyOf('samples');
    const view = NIGHT_VIEWS[0]?.id ?? '';
    await using ledger = await openLedger(store, { access: 'own' });
    const file = new SqliteFile(join(store, 'ledger.sqlite'), { readonly: true });
    const row = file
      .prepare(
        `select blob.hash from run_view join blob on blob.n = run_view.samples join view on view.n = run_view.view where view.id = ?`,
      )
      .get(view);
    file.close();
    const hash = typeof row === 'object' && row !== null && 'hash' in row ? String(row.hash) : '';
    await damage(blobPath(ledger.folder, hash), 3, Buffer.from([0xff, 0xff]));
    await expect(ledger.samplesOf('n1', view)).rejects.toMatchObject({ code: 'blob-damaged', data: { hash } });
    expect((await ledger.findings('n1')).items.length).toBeGreaterThan(0);
  });
});

describe('a damaged database', () => {
  const PAGE = 4096;
  /** Pages of the file by the table or index they belong to, as SQLite itself lists them. */
  function pagesOf(store: string, name: string): readonly number[] {
    const file = new SqliteFile(join(store, 'ledger.sqlite'), { readonly: true });
    const rows: unknown[] = file.prepare('select pageno from dbstat where name = ? order by pageno').pluck().all(name);
    file.close();
    return rows.filter((page) => typeof page === 'number');
  }
  const spoil = async (store: string, pages: readonly number[]): Promise<void> => {
    for (const page of pages) await damage(join(store, 'ledger.sqlite'), (page - 1) * PAGE, Buffer.alloc(PAGE, 0x5a));
  };
  const last = <T>(list: readonly T[]): readonly T[] => list.slice(-1);

  const CASES: readonly { readonly name: string; readonly harm: (store: string) => Promise<void> }[] = [
    { name: 'leaf page of findings', harm: (store) => spoil(store, last(pagesOf(store, 'finding'))) },
    { name: 'three leaf pages of findings', harm: (store) => spoil(store, pagesOf(store, 'finding').slice(-4, -1)) },
    { name: 'root page of findings', harm: (store) => spoil(store, pagesOf(store, 'finding').slice(0, 1)) },
    { name: 'page of an index', harm: (store) => spoil(store, last(pagesOf(store, 'finding_count'))) },
    { name: 'page of views of runs', harm: (store) => spoil(store, last(pagesOf(store, 'run_view'))) },
    { name: 'page of accepted pictures', harm: (store) => spoil(store, pagesOf(store, 'accepted_picture')) },
    { name: 'page of runs', harm: (store) => spoil(store, pagesOf(store, 'run')) },
    { name: 'first page', harm: (store) => spoil(store, [1]) },
    { name: 'end cut off', harm: (store) => truncate(join(store, 'ledger.sqlite'), 20 * PAGE) },
    {
      name: 'content replaced by text',
      harm: (store) => writeFile(join(store, 'ledger.sqlite'), 'high tide at six\n'.repeat(900)),
    },
    { name: 'content gone', harm: (store) => truncate(join(store, 'ledger.sqlite'), 0) },
    { name: 'file gone', harm: (store) => rm(join(store, 'ledger.sqlite')) },
  ];
  test.each(CASES)('$name: is a clear error or harmless, and is mended', async ({ name, harm }) => {
    const store = await copyOf(`database ${name}`);
    await harm(store);
    // Whatever is asked of it, the answer is right or an error of the catalogue.
    await expectClear(async () => {
      await using ledger = await openLedger(store, { access: 'own' });
      expect(await exported(ledger, 'n1', join(folder.path, `out early ${name}`))).toEqual(undisturbed);
    });
    const found = await examineStore(store, { mend: false, now });
    expect(found.faults.filter((fault) => fault.kind === 'database')).toHaveLength(1);

    const mended = await examineStore(store, { mend: true, now });
    expect(mended.faults.every((fault) => fault.mended !== null)).toBe(true);
    expect((await examineStore(store, { mend: false, now })).faults).toEqual([]);
    await using ledger = await openLedger(store, { access: 'own' });
    expect((await ledger.runs()).map((run) => run.id)).toEqual(['n2', 'n1']);
    // The copy of the last finished run has what the damaged pages held, so nothing at all is lost.
    expect(await exported(ledger, 'n1', join(folder.path, `out ${name}`))).toEqual(undisturbed);
    expect(await ledger.accepted(['main'])).toHaveLength(NIGHT_VIEWS.length);
    await night(ledger, 'n3');
    expect((await ledger.findings('n3', { status: 'new' })).items).toEqual([]);
  });

  // SQLite proves the structure of a file, not what is written in it.
  const FLIPS = [
    { where: 'finding', find: 'select cast(message as text) from finding limit 1' },
    { where: 'finding', find: 'select cast(measured as text) from finding limit 1' },
    { where: 'cause', find: 'select cast(body as text) from cause limit 1' },
  ] as const;
  test.each(FLIPS)('a byte that flips inside a $where ($find) is found, and mended by the next run', async ({ where, find }) => {
    const store = await copyOf(`flip ${find}`);
    if (where === 'cause') {
      await using ledger = await openLedger(store, { access: 'own' });
      await ledger.beginRun(newRun({ id: 'n3', views: NIGHT_VIEWS }));
      await goOn(ledger, 'n3', () => undefined);
    }
    const file = join(store, 'ledger.sqlite');
    const open = new SqliteFile(file);
    open.pragma('wal_checkpoint(truncate)');
    const text = String(open.prepare(find).pluck().get());
    open.close();
    const content = await readFile(file);
    const needle = Buffer.from(text);
    for (let at = content.indexOf(needle); at >= 0; at = content.indexOf(needle, at + 1)) {
      const last = at + needle.length - 2;
      content[last] = (content[last] ?? 0) ^ 1;
    }
    await writeFile(file, content);
    const found = await examineStore(store, { mend: false, now });
    expect(found.faults.map((fault) => fault.kind)).toContain('content');
    expect(found.faults.every((fault) => fault.kind === 'content' && fault.where === where)).toBe(true);

    await examineStore(store, { mend: true, now });
    expect((await examineStore(store, { mend: false, now })).faults).toEqual([]);
    await using ledger = await openLedger(store, { access: 'own' });
    await night(ledger, 'n9');
    expect(await ledger.countFindings('n9')).toBeGreaterThan(0);
  });

  test('without a copy, what is on whole pages is saved, and what belongs to lost rows is found again by the next run', async () => {
    const store = await copyOf('no copy');
    await rm(join(store, 'ledger.backup.sqlite'));
    await spoil(store, pagesOf(store, 'finding').slice(-3, -1));
    const { faults } = await examineStore(store, { mend: true, now });
    expect(faults[0]?.mended).toMatch(/^\d+ rows saved, 0 more from the copy/);
    expect((await readdir(store)).filter((file) => file.startsWith('ledger.damaged-'))).toEqual([
      'ledger.damaged-20310306T040000000Z.sqlite',
    ]);
    await using ledger = await openLedger(store, { access: 'own' });
    const saved = await ledger.countFindings('n1');
    expect(saved).toBeGreaterThan(0);
    expect((await ledger.views('n1')).items.map((view) => view.id)).toEqual(NIGHT_VIEWS.map((view) => view.id));
    await night(ledger, 'n3');
    expect(await ledger.countFindings('n3')).toBeGreaterThan(saved);
  });

  async function expectClear(work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof GloamError)) throw error;
      expect(error.code).toBe('ledger-damaged');
    }
  }
});

describe('bytes that flipped without harm to the structure', () => {
  const change = (statement: string) => (store: string) => {
    const file = new SqliteFile(join(store, 'ledger.sqlite'));
    const { changes } = file.prepare(statement).run();
    file.close();
    expect(changes).toBe(1);
  };
  const first = `where run = 1 and view = (select min(view) from run_view where run = 1 and status = 'captured')`;
  const CASES = [
    { where: 'run', what: 'run n1', harm: change(`update run set reference = 'noom' where id = 'n1'`) },
    { where: 'run_view', what: 'in run n1', harm: change(`update run_view set notes = '[]' ${first}`) },
    { where: 'run_view', what: 'in run n1', harm: change(`update run_view set status = 'failed' ${first}`) },
    { where: 'run_view', what: 'in run n1', harm: change(`update run_view set shot = shot + 1 ${first}`) },
    { where: 'run_view', what: 'in run n1', harm: change(`update run_view set sample_count = sample_count + 1 ${first}`) },
    { where: 'acceptance', what: 'acceptance', harm: change(`update acceptance set at = '2031-03-05T09:00:00.000Z'`) },
    {
      where: 'accepted_picture',
      what: 'the accepted picture of',
      harm: change(
        `update accepted_picture set shot = (select max(n) from blob) where view = (select min(view) from accepted_picture)`,
      ),
    },
    { where: 'view', what: 'the name of view', harm: change(`update view set theme = 'dusj' where n = (select max(n) from view)`) },
  ] as const;
  test.each(CASES)('$where, $what: doctor proves it, takes it out and finds nothing more', async ({ where, what, harm }) => {
    const store = await copyOf(`flipped ${String(CASES.findIndex((each) => each.harm === harm))}`);
    harm(store);
    const asked = await examineStore(store, { mend: false, now });
    expect(asked.faults.filter((fault) => fault.kind === 'content')).toEqual([
      expect.objectContaining({ where, message: expect.stringContaining(what) as unknown, mended: null }),
    ]);
    const mended = await examineStore(store, { mend: true, now });
    expect(mended.faults.every((fault) => fault.mended !== null)).toBe(true);
    expect((await examineStore(store, { mend: false, now })).faults).toEqual([]);
    await using ledger = await openLedger(store, { access: 'own' });
    expect((await ledger.run('n2')).id).toBe('n2');
    await night(ledger, 'n3');
    expect(await exported(ledger, 'n3', join(folder.path, `out flipped ${where}`))).not.toEqual({});
  });

  test('any byte of a text that a run or its views hold', async () => {
    const store = await copyOf('flipped bytes');
    const path = join(store, 'ledger.sqlite');
    const content = await readFile(path);
    const places = ['2031-', 'http://', 'captured', 'chromium'].flatMap((text) => {
      const at = content.indexOf(text);
      return at < 0 ? [] : [at + 2];
    });
    expect(places.length).toBe(4);
    for (const at of places) {
      await damage(path, at, Buffer.from([(content[at] ?? 0) ^ 1]));
      const { faults } = await examineStore(store, { mend: false, now });
      expect(faults.length, `byte ${String(at)}`).toBeGreaterThan(0);
      await writeFile(path, content);
    }
  });
});

describe('a store that cannot be written', () => {
  // Root may write anywhere, so as root the child becomes somebody else.
  const asRoot = process.getuid?.() === 0;
  const NOBODY = 65534;
  let bundle: string;
  beforeAll(async () => {
    bundle = await bundleChild('try-open');
  });
  afterAll(() => rm(bundle, { force: true }));

  test('is read all the same, from a copy, and refused to writers by name', async () => {
    const store = await copyOf('read-only');
    const open = async (access: string): Promise<string> => {
      const child = startChild(bundle, [store, access], asRoot ? { uid: NOBODY } : {});
      await child.ended;
      return child.lines.join('\n');
    };
    await chmod(folder.path, 0o755);
    for (const path of await readdir(store, { recursive: true, withFileTypes: true })) {
      await chmod(join(path.parentPath, path.name), path.isDirectory() ? 0o555 : 0o444);
    }
    await chmod(store, 0o555);
    const { findings } = await readCounts();
    expect(await open('read')).toBe(`opened n2 ${String(findings)}`);
    expect(await open('own')).toBe('refused store-read-only');
    expect(await open('edit')).toBe('refused store-read-only');
    await chmod(store, 0o755);
    for (const path of await readdir(store, { withFileTypes: true })) {
      if (path.isDirectory()) await chmod(join(store, path.name), 0o755);
    }
    if (asRoot) await chown(store, 0, 0);
  });

  async function readCounts(): Promise<{ readonly findings: number }> {
    await using ledger = await openLedger(whole, { access: 'read' });
    return { findings: await ledger.countFindings('n2') };
  }
});

describe('a full disk', () => {
  // A disk of its own, seen by the child alone: needs the right to make name spaces, which some sandboxes withhold.
  const canMount = ((): boolean => {
    try {
      execFileSync('unshare', ['-rm', 'true'], { stdio: 'ignore' });
      return true;
    } catch {
      return false;
    }
  })();
  let bundle: string;
  beforeAll(async () => {
    bundle = await bundleChild('crowded-night');
  });
  afterAll(() => rm(bundle, { force: true }));

  test.skipIf(!canMount).each([8, 100, 200, 300, 450, 600, 900])(
    'with %i KB left: the run stops with a clear error, loses nothing, and is finished once there is room',
    async (freeKb) => {
      const disk = join(folder.path, `disk-${String(freeKb)}`);
      await mkdir(disk);
      const child = startChild(bundle, [disk, String(freeKb), join(folder.path, `out-${String(freeKb)}`)], {
        shell: `exec unshare -rm bash -c 'mount -t tmpfs -o size=8m tmpfs "$2" && exec "$0" "$1" "\${@:2}"' "$@"`,
      });
      expect(await child.ended).toEqual({ code: 0, stderr: '' });
      const told: unknown = JSON.parse(child.lines.join(''));
      expect(told).toMatchObject({ errors: ['store-full'], hashes: undisturbed });
    },
  );
});
