import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { sql } from 'kysely';
import { describe, expect, test } from 'vitest';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { MIGRATIONS } from '../../src/ledger/sqlite/migrations.ts';
import { openDatabase } from '../../src/ledger/sqlite/open-database.ts';
import { newRun, planOf, storeNight } from './synthetic-run.ts';
import { exported } from './exported.ts';
import { tempFolder } from './temp-folder.ts';

/** Takes the later steps back, so that the file is one that an older version left. */
function age(store: string): void {
  const file = new SqliteFile(join(store, 'ledger.sqlite'));
  for (const table of ['tally', 'comparison', 'difference', 'accepted_picture', 'acceptance']) file.exec(`drop table ${table}`);
  file.exec('alter table run_view drop column fingerprint');
  for (const table of ['view', 'run_view']) file.exec(`alter table ${table} drop column seal`);
  for (const column of ['explained', 'cut', 'standard', 'foretold_of', 'foretold', 'seal'])
    file.exec(`alter table run drop column ${column}`);
  file.exec('drop index finding_count; create index finding_count on finding (sheet, "check", level, since, exempt)');
  file.prepare('delete from kysely_migration where name > ?').run('001-runs');
  file.close();
}

describe('a store that an older version wrote', () => {
  test.each(['own', 'edit', 'read'] as const)(
    'is brought up to date when it is opened to %s, and keeps what is in it',
    async (access) => {
      await using folder = await tempFolder();
      const store = join(folder.path, 'store');
      let before: unknown;
      {
        await using ledger = await openLedger(store, { access: 'own' });
        await storeNight(ledger, { run: { id: 'n1' } });
        before = await exported(ledger, 'n1', join(folder.path, 'before'));
      }
      age(store);
      await using ledger = await openLedger(store, { access });
      expect(await exported(ledger, 'n1', join(folder.path, 'after'))).toEqual(before);
      expect(await ledger.acceptances()).toEqual([]);
      if (access === 'read') return;
      await ledger.accept('n1', { set: 'main', who: 'designer', note: '', at: '2031-03-05T08:00:00Z', views: 'all' });
      expect(await ledger.accepted(['main'])).toHaveLength(planOf().length);
    },
  );

  test('is not brought up to date under a run of that version: it is refused until that ends', async () => {
    await using folder = await tempFolder();
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await storeNight(ledger, { run: { id: 'n1' } });
    }
    age(folder.path);
    const lock = new SqliteFile(join(folder.path, 'lock.sqlite'));
    lock.exec('begin exclusive');
    await expect(openLedger(folder.path, { access: 'edit' })).rejects.toMatchObject({ code: 'store-busy' });
    lock.close();
    await using ledger = await openLedger(folder.path, { access: 'edit' });
    expect((await ledger.run('n1')).id).toBe('n1');
  });

  test('two that open it at once both get it up to date', async () => {
    await using folder = await tempFolder();
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await storeNight(ledger, { run: { id: 'n1' } });
    }
    age(folder.path);
    const opened = await Promise.all([1, 2].map(() => openLedger(folder.path, { access: 'edit', waitMs: 10_000 })));
    for (const ledger of opened) {
      expect(await ledger.acceptances()).toEqual([]);
      await ledger.close();
    }
  });
});

describe('notes that an older version wrote as sentences', () => {
  test('get their codes where something is decided by them, and keep their words otherwise', async () => {
    await using folder = await tempFolder();
    const [, dusk] = planOf();
    if (dusk === undefined) throw new Error('the plan has views');
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await storeNight(ledger, { run: { id: 'n1' } });
    }
    // recorded: sentences of version 0.1.0 before its notes were codes
    const said = [
      '#clock keeps changing',
      'no answer yet: /tide.json',
      'the page grows as it is scrolled; captured as far as it had grown',
      'unsteady: only a second try came; before: it crashed',
      'switched in place the theme shows otherwise than on a fresh load (its pixels at 4, 8 px): the switch leaves something behind, or the page is another on each load; its themes are loaded one by one',
      'not compared with noon: that view was not captured, so flipped, unthemed and separation compare nothing',
      'not compared with noon: 5 of 9 places, which flipped, unthemed and separation could not find there: #a, #b, #c …',
    ];
    const file = new SqliteFile(join(folder.path, 'ledger.sqlite'));
    file.prepare('update run_view set notes = ? where view = (select n from view where id = ?)').run(JSON.stringify(said), dusk.id);
    file.close();
    age(folder.path);
    await using ledger = await openLedger(folder.path, { access: 'edit' });
    const { items } = await ledger.views('n1');
    expect(items.find(({ id }) => id === dusk.id)?.notes).toEqual([
      { code: 'keeps-changing', at: '#clock', data: {} },
      { code: 'no-answer', at: '/tide.json', data: {} },
      { code: 'told', data: { text: said[2] } },
      { code: 'retried', data: { errors: ['it crashed'] } },
      { code: 'left-behind', data: { difference: 'its pixels at 4, 8 px' } },
      { code: 'no-reference', data: { reference: 'noon' } },
      { code: 'not-compared', data: { reference: 'noon', places: 5, of: 9, selectors: 3, first: ['#a', '#b', '#c'] } },
    ]);
    expect(items.filter(({ id }) => id !== dusk.id).flatMap(({ notes }) => notes)).toEqual([]);
  });
});

describe('repairs that an older version wrote in words alone', () => {
  test('get the members of their kind, keep everything else, and prove', async () => {
    await using folder = await tempFolder();
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await storeNight(ledger, { run: { id: 'n1' } });
    }
    const bare = { id: 'c1', layer: 'usage', chain: [], findings: 1, themes: ['dusk'], pages: 1, confidence: 0.9, why: 'so' };
    const counts = { themes: ['dusk'], fixes: 1, breaks: 0 };
    // recorded: shapes of the version before
    const said = [
      { ...bare, repair: { change: 'style', of: 'html', from: 'filter: invert(1)', to: 'filter: none', ...counts } },
      {
        ...bare,
        id: 'c2',
        repair: {
          change: 'use',
          of: '.card',
          from: '#fff',
          to: 'face.card',
          also: [{ of: 'text on .card', from: '#eee', to: 'mark' }],
          ...counts,
        },
      },
      {
        ...bare,
        id: 'c3',
        repair: { change: 'add', of: 'face.card', from: 'mark', to: '4.5 on #fff in dusk (such as #555)', ...counts },
      },
      { ...bare, id: 'c4', repair: undefined },
    ];
    const file = new SqliteFile(join(folder.path, 'ledger.sqlite'));
    file.exec('delete from run_cause; delete from cause');
    for (const [ord, body] of said.map((each) => JSON.stringify(each)).entries()) {
      const { lastInsertRowid } = file
        .prepare('insert into cause (id, hash, body) values (?, ?, ?)')
        .run(`c${String(ord + 1)}`, hashOf(body), body);
      file.prepare('insert into run_cause (run, ord, cause) values (1, ?, ?)').run(ord, lastInsertRowid);
    }
    file.close();
    age(folder.path);
    await using ledger = await openLedger(folder.path, { access: 'edit' });
    const [style, use, add, none] = await ledger.causes('n1');
    expect(style).toEqual({
      ...said[0],
      repair: { ...said[0]?.repair, style: { property: 'filter', from: 'invert(1)', to: 'none' } },
    });
    expect(use?.repair).toMatchObject({ of: '.card', also: [{ change: 'use', of: 'text on .card' }] });
    expect(add?.repair).toEqual({ ...said[2]?.repair, asks: [] });
    expect(none).toEqual({ ...bare, id: 'c4' });
    const opened = openDatabase(folder.path);
    const { rows } = await sql<{ readonly hash: string; readonly body: string }>`select hash, body from cause`.execute(opened.db);
    await opened.close();
    expect(rows.map(({ hash }) => hash)).toEqual(rows.map(({ body }) => hashOf(body)));
  });
});

describe('a store that a newer version wrote', () => {
  test('is refused and left as it is', async () => {
    await using folder = await tempFolder();
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await ledger.beginRun(newRun());
    }
    const file = new SqliteFile(join(folder.path, 'ledger.sqlite'));
    file.prepare('insert into kysely_migration (name, timestamp) values (?, ?)').run('999-tides', '2041-01-01');
    file.close();
    for (const access of ['own', 'edit', 'read'] as const) {
      await expect(openLedger(folder.path, { access })).rejects.toMatchObject({
        code: 'ledger-newer',
        data: { found: '999-tides', newest: Object.keys(MIGRATIONS).at(-1) },
      });
    }
  });
});

describe('the tables', () => {
  test('let a page of findings be read by indexes alone', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(folder.path, { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    const opened = openDatabase(folder.path);
    const { rows } = await sql<{ readonly detail: string }>`
      explain query plan
      select run_view.ord, finding.id from run_view
      join view on view.n = run_view.view join finding on finding.sheet = run_view.sheet
      where run_view.run = 1 and finding."check" = 'glow' order by run_view.ord, finding.id limit 100`.execute(opened.db);
    await opened.close();
    const scans = rows.map((row) => row.detail).filter((detail) => detail.startsWith('SCAN'));
    expect(scans).toEqual([]);
  });
});
