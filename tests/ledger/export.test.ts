import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { exportJudged } from '../../src/cli/run/export-judged.ts';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { captured, cause, failed, findingsOf, newRun, planOf, storeNight, textSample } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const lines = async (path: string): Promise<readonly Record<string, unknown>[]> =>
  (await readFile(path, 'utf8'))
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);

/** One sample of each kind, every optional member set. */
function everyKind(view: string): readonly Sample[] {
  const place = { view, selector: '#dial::before', key: 'dial', rect: [1, 2, 3, 4], label: 'Dial', owner: 'dials' } as const;
  const paint = { property: 'box-shadow', color: 'rgb(1, 2, 3)', origin: { kind: 'literal' } } as const;
  return [
    textSample(view, 1, {
      unread: 'over a video',
      exemptions: [0],
      disagreement: { color: '#000', background: '#fff' },
    }),
    {
      ...{ ...place, kind: 'surface', color: '#0b1a24', around: '#10222e', lightness: 8.1, aroundLightness: 12.4, chroma: 0.02 },
      ...{ hueDeg: 240, area: 0.2, tone: 'dark', fill: 'flat', role: 'box', stay: 'dark', paint, opacity: 1, layers: [] },
    },
    {
      ...{
        ...place,
        kind: 'shadow',
        property: 'box-shadow',
        color: '#1f3a4a',
        beneath: '#10222e',
        lightnessGain: 9.5,
        chromaGain: 0.01,
      },
      ...{ blur: 12, spread: 0, offset: [0, 2], inset: false, index: 0, paint },
    },
    {
      ...{ ...place, kind: 'graphic', role: 'icon', color: '#fff', against: '#000', contrast: 21, exempt: null },
      ...{ why: 'told by shape', paint, layers: [], opacity: 1 },
    },
    { ...place, kind: 'picture', medium: 'image', filters: [], luma: [] },
  ];
}

describe('an exported run', () => {
  // ours: the members that docs/questions.md promises to other programs
  test('has exactly the members other programs rely on, and no picture samples or internal members', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(join(folder.path, 'store')), { access: 'own' });
    const [good, bad] = planOf(['tide-table']);
    if (good === undefined || bad === undefined) throw new Error('the plan has views');
    const id = await ledger.beginRun(newRun({ views: [good, bad] }));
    await ledger.storeView(id, captured(good, { samples: everyKind(good.id) }));
    await ledger.storeView(id, failed(bad));
    await ledger.storeFindings(id, [{ view: good, findings: findingsOf({ ...good, theme: 'dusk' }) }]);
    const { items } = await ledger.findings(id);
    await ledger.storeCauses(id, [{ cause: cause('quiet'), findings: items.slice(0, 1).map((finding) => finding.id) }]);
    await ledger.finishRun(id, '2031-03-04T03:00:00.000Z');
    const out = join(folder.path, 'out');
    expect(await exportJudged(ledger, id, out, true)).toMatchObject({ views: 2, findings: 2, samples: 4, causes: 1 });

    expect((await readdir(out)).sort()).toEqual(['causes.ndjson', 'findings.ndjson', 'run.json', 'samples.ndjson', 'shots']);
    const run = JSON.parse(await readFile(join(out, 'run.json'), 'utf8')) as Record<string, unknown>;
    const shot = `shots/${hashOf(captured(good).shot)}.png`;
    const where = ({ id, page, theme, state, viewport, url }: typeof good): object => ({ id, page, theme, state, viewport, url });
    expect(run).toEqual({
      ...{ format: 'gloam-run/1', id, startedAt: '2031-03-04T02:00:00.000Z', finishedAt: '2031-03-04T03:00:00.000Z' },
      ...{ gloam: '0.1.0', browser: 'chromium 156', reference: 'noon', themes: ['noon', 'dusk'] },
      views: [
        { ...where(good), status: 'captured', shot, ms: 120 },
        { ...where(bad), status: 'failed', error: 'http://127.0.0.1:4000/tide-table: answered 500', ms: 4000 },
      ],
      totals: { views: 2, failed: 1, samples: 4, findings: { 'text-contrast': 1, glow: 1 }, exempt: 0, coverage: {} },
    });
    expect(hashOf(await readFile(join(out, shot)))).toBe(hashOf(captured(good).shot));

    const samples = await lines(join(out, 'samples.ndjson'));
    expect(samples.map((sample) => Object.keys(sample).join(' '))).toEqual([
      'kind view selector rect text color background backgroundSpread contrast fontSize fontWeight large required exempt verdict why basis',
      'kind view selector rect color around lightness aroundLightness chroma area tone',
      'kind view selector rect property color beneath lightnessGain blur spread',
      'kind view selector rect role color against contrast required verdict',
    ]);
    expect(samples[0]?.['contrast']).toEqual({ min: 5.05, max: 5.05 });
    const findings = await lines(join(out, 'findings.ndjson'));
    expect(findings.map((finding) => Object.keys(finding).join(' '))).toEqual([
      'id check level view page theme state viewport selector rect message measured expected since status cause',
      'id check level view page theme state viewport selector rect message measured expected since status cause',
    ]);
    expect(findings.map((finding) => finding['cause']).sort()).toEqual([null, 'quiet'].sort());
    expect(await lines(join(out, 'causes.ndjson'))).toEqual([cause('quiet')]);
  });

  test('is the same, byte for byte, whenever it is written, and has no samples unless asked for', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(join(folder.path, 'store')), { access: 'own' });
    const id = await storeNight(ledger, { run: {} });
    const written = async (name: string): Promise<readonly string[]> => {
      await exportJudged(ledger, id, join(folder.path, name), false);
      const names = (await readdir(join(folder.path, name), { recursive: true, withFileTypes: true })).filter((entry) =>
        entry.isFile(),
      );
      return (await Promise.all(names.map(async (f) => `${f.name} ${hashOf(await readFile(join(f.parentPath, f.name)))}`))).sort();
    };
    const first = await written('a');
    expect(await written('b')).toEqual(first);
    expect(first.some((name) => name.startsWith('samples'))).toBe(false);
  });

  test('is refused for a run under way', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await ledger.beginRun(newRun());
    await expect(exportJudged(ledger, 'night-1', join(folder.path, 'out'), false)).rejects.toMatchObject({
      code: 'run-not-finished',
    });
  });
});
