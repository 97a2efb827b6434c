// The gate on runs stored in a real ledger.
import { describe, expect, test } from 'vitest';
import { judgeRun } from '../../src/gate/judge-run.ts';
import type { GateVerdict } from '../../src/gate/verdict.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from '../ledger/store-in.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { Configuration } from '../../src/plan/configuration.ts';
import type { Note } from '../../src/samples/note.ts';
import { captured, draft, entry, failed, PAGES, planOf, storeNight } from '../ledger/synthetic-run.ts';
import { tempFolder } from '../ledger/temp-folder.ts';

type Setup = Pick<Configuration, 'pages' | 'checks' | 'states' | 'exempt' | 'gate'>;

const SETUP: Setup = {
  pages: { kind: 'list', pages: PAGES.map((name) => ({ name, path: `/${name}`, states: [] })) },
  checks: {},
  states: [],
  exempt: [],
  gate: { '*': { most: [{ check: '*', count: 0 }] } },
};

async function verdictOn(ledger: Ledger, run: string, over: Partial<Setup> = {}, since?: string): Promise<GateVerdict> {
  const [verdict] = await judgeRun(
    ledger,
    { ...SETUP, ...over },
    {
      run: await ledger.run(run),
      themes: ['dusk'],
      today: '2031-03-04',
      ...(since === undefined ? {} : { since }),
    },
  );
  if (verdict === undefined) throw new Error('no verdict');
  return verdict;
}

function missing(verdict: GateVerdict): readonly string[] {
  return verdict.criteria.filter((c) => !c.met).map((c) => `${c.id}: ${c.found}`);
}

const NOTES: Readonly<Record<string, readonly Note[]>> = {
  'alarm-log': [
    { code: 'keeps-changing', at: '#clock', data: {} },
    { code: 'frame-unread', at: 'https://chart.example', data: {} },
  ],
  'berth-book': [{ code: 'retried', data: { errors: ['it crashed'] } }],
};

describe('a stored run', () => {
  test('is judged theme by theme: what dusk has does not hold noon back', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    const [noon, dusk] = await judgeRun(ledger, SETUP, {
      run: await ledger.run('n1'),
      themes: ['noon', 'dusk'],
      today: '2031-03-04',
    });
    expect(noon?.may).toBe(true);
    // derived: four pages with two findings each
    expect(dusk === undefined ? [] : missing(dusk)).toEqual(['*: 8 findings']);
    expect(dusk?.counts).toEqual({ new: 8, known: 0, exempt: 0, gone: 0 });
  });

  test('against an earlier run only what that one did not have counts', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    await storeNight(ledger, { run: { id: 'n2' } });
    expect(missing(await verdictOn(ledger, 'n2'))).toEqual(['*: 8 findings']);
    expect((await verdictOn(ledger, 'n2', {}, 'n1')).may).toBe(true);
    expect((await verdictOn(ledger, 'n2', {}, 'previous')).since).toBe('n1');
    await storeNight(ledger, {
      run: { id: 'n3' },
      findings: (view) => (view.id === 'alarm-log@dusk.rest.desk' ? [entry(view, draft(1)), entry(view, draft(3))] : []),
    });
    const third = await verdictOn(ledger, 'n3', { gate: { dusk: { most: [{ check: '*', count: 0 }], since: 'n1' } } });
    expect(missing(third)).toEqual(['*: 1 finding, 1 more that it had already']);
    expect(third.counts).toEqual({ new: 1, known: 1, exempt: 0, gone: 7 });
    await expect(verdictOn(ledger, 'n3', {}, 'n9')).rejects.toMatchObject({ code: 'run-unknown' });
  });

  test('with failed, restless and absent views is told apart', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, {
      run: { id: 'n1', views: planOf(['station-list', 'tide-table', 'alarm-log', 'berth-book']) },
      result: (view) =>
        view.page === 'tide-table'
          ? failed(view)
          : view.page === 'station-list'
            ? { view, status: 'failed', ms: 4000, code: 'unsettled', error: 'pixels still move at 4, 8 px' }
            : captured(view, { notes: NOTES[view.page] ?? [] }),
      findings: () => [],
    });
    const verdict = await verdictOn(ledger, 'n1');
    expect(missing(verdict)).toEqual([
      'views-failed: 1 view failed, of 4',
      'views-unsettled: 1 view kept moving',
      'pages-missing: 1 page missing: berth-form',
    ]);
    expect(verdict.criteria[1]?.links[0]?.label).toBe('station-list@dusk.rest.desk: pixels still move at 4, 8 px');
    expect(verdict.warnings).toEqual([
      '1 view moved while captured, though two pictures agreed: alarm-log@dusk.rest.desk (#clock keeps changing).',
      '1 view did not come at the first try: berth-book@dusk.rest.desk (only a second try came; before: it crashed).',
    ]);
  });

  test('needs accepted pictures where they are asked for, of its own label or of the main set', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1', label: 'new-pier' }, findings: () => [] });
    const gate = { dusk: { most: [], accepted: true } };
    expect(missing(await verdictOn(ledger, 'n1', { gate }))).toEqual(['pictures-accepted: 4 views without one, of 4']);
    const act = { who: 'survey office', note: '', at: '2031-03-04T08:00:00.000Z' };
    const dusk = planOf().filter((view) => view.theme === 'dusk');
    await ledger.accept('n1', { ...act, set: 'main', views: dusk.slice(0, 1).map((view) => view.id) });
    expect(missing(await verdictOn(ledger, 'n1', { gate }))).toEqual(['pictures-accepted: 3 views without one, of 4']);
    await ledger.accept('n1', { ...act, set: 'new-pier', views: dusk.slice(1).map((view) => view.id) });
    expect((await verdictOn(ledger, 'n1', { gate })).may).toBe(true);
    expect((await verdictOn(ledger, 'n1')).criteria.map((c) => c.id)).not.toContain('pictures-accepted');
  });

  test('shows coverage by owner', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const run = await ledger.beginRun({
      id: 'n1',
      startedAt: '2031-03-04T02:00:00.000Z',
      gloam: '0.1.0',
      browser: 'chromium 156',
      reference: 'noon',
      themes: [{ name: 'dusk', tone: 'dark' }],
      views: planOf().filter((view) => view.theme === 'dusk'),
    });
    for (const view of planOf().filter((v) => v.theme === 'dusk')) {
      await ledger.storeView(run, captured(view));
      await ledger.storeFindings(run, [{ view, findings: [] }]);
    }
    await ledger.storeCoverage(run, [
      { page: 'tide-table', theme: 'dusk', owner: 'pilots', uses: 20, throughTokens: 12 },
      { page: 'tide-table', theme: 'dusk', uses: 80, throughTokens: 80 },
      { page: 'tide-table', theme: 'noon', uses: 80, throughTokens: 0 },
    ]);
    await ledger.finishRun(run, '2031-03-04T03:00:00.000Z');
    const gate = { dusk: { most: [], coverage: 0.9, owners: { pilots: { most: [], coverage: 0.9 } } } };
    expect(missing(await verdictOn(ledger, run, { gate }))).toEqual(['owner:pilots:coverage: 60.0 % (12 of 20 colour uses)']);
  });

  test('tells which exemptions cover something, and does not call those idle that it may not have known', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const why = 'drawn by the survey office';
    const exempt = [
      { selector: '.old-chart', why },
      { selector: '.idle', why: 'nobody knows' },
    ];
    await storeNight(ledger, {
      run: { id: 'n1', standard: { level: 'AA', exempt } },
      findings: (view) => (view.theme === 'dusk' ? [entry(view, draft(1), { exempt: why })] : []),
    });
    const known = await verdictOn(ledger, 'n1', { exempt });
    expect(known.may).toBe(true);
    expect(known.counts.exempt).toBe(4);
    expect(known.exemptions.map(({ exemption, idle }) => [exemption.covers, idle])).toEqual([
      [4, false],
      [0, true],
    ]);
    const [later] = await judgeRun(
      ledger,
      { ...SETUP, exempt: [...exempt.slice(0, 1), { selector: '.idle', why: 'written since' }] },
      {
        run: await ledger.run('n1'),
        themes: ['dusk'],
        today: '2031-03-04',
      },
    );
    expect(later?.exemptions.map(({ exemption, idle }) => [exemption.covers, idle])).toEqual([
      [4, false],
      [null, false],
    ]);
  });
});
