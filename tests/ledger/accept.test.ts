import { describe, expect, test } from 'vitest';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { Difference } from '../../src/samples/difference.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, failed, flatPng, newRun, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const words = { who: 'harbour master', note: '', at: '2031-03-04T08:00:00.000Z' };
const views = planOf(['tide-table']);
const [noon, dusk] = views as [View, View];
/** Pictures of night n are all of one shade. */
const shade = (n: number) => (view: View) => captured(view, { shot: flatPng(n, view.theme === 'dusk' ? 0 : 255, n) });
const hashes = (n: number): readonly string[] => [flatPng(n, 0, n), flatPng(n, 255, n)].map((png) => hashOf(png));

describe('accepting', () => {
  test('the pictures of a run become the ones in force; a later acceptance covers them view by view; undoing uncovers them', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const shots = async (): Promise<readonly string[]> => (await ledger.accepted(['main'])).map((picture) => picture.shot);
    await storeNight(ledger, { run: { id: 'n1', views }, result: shade(10) });
    await storeNight(ledger, { run: { id: 'n2', views }, result: shade(20) });
    const [firstDusk, firstNoon] = hashes(10);
    const [secondDusk] = hashes(20);

    expect(await shots()).toEqual([]);
    const first = await ledger.accept('n1', { set: 'main', views: 'all', ...words });
    expect(first).toMatchObject({ run: 'n1', views: 2, undone: null });
    expect(await shots()).toEqual([firstDusk, firstNoon]);
    const second = await ledger.accept('n2', { set: 'main', views: [dusk.id], ...words, note: 'calmer dusk' });
    expect(await shots()).toEqual([secondDusk, firstNoon]);
    await ledger.undoAcceptance(second.id, { by: 'designer', at: '2031-03-05T08:00:00.000Z' });
    expect(await shots()).toEqual([firstDusk, firstNoon]);
    expect(await ledger.acceptances('main')).toMatchObject([
      { id: second.id, note: 'calmer dusk', views: 1, undone: { by: 'designer' } },
      { id: first.id, views: 2, undone: null },
    ]);
    await expect(ledger.undoAcceptance(second.id, { by: 'x', at: words.at })).rejects.toMatchObject({ code: 'acceptance-undone' });
    await expect(ledger.undoAcceptance('none', { by: 'x', at: words.at })).rejects.toMatchObject({ code: 'acceptance-unknown' });
  });

  test('undoing an acceptance that a later one covers changes nothing, until that one is undone too', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const accepted = async (n: number): Promise<string> => {
      await storeNight(ledger, { run: { id: `n${String(n)}`, views }, result: shade(n) });
      return (await ledger.accept(`n${String(n)}`, { set: 'main', views: 'all', ...words })).id;
    };
    const ids = [await accepted(1), await accepted(2), await accepted(3)];
    const undo = (id: string | undefined) => ledger.undoAcceptance(id ?? '', { by: 'designer', at: words.at });
    const shots = async (): Promise<readonly string[]> => (await ledger.accepted(['main'])).map((picture) => picture.shot);
    await undo(ids[1]);
    expect(await shots()).toEqual(hashes(3));
    await undo(ids[2]);
    expect(await shots()).toEqual(hashes(1));
  });

  test('a set may lie over another, as a branch over its main line', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1', views }, result: shade(10) });
    await storeNight(ledger, { run: { id: 'b1', views }, result: shade(20) });
    await ledger.accept('n1', { set: 'main', views: 'all', ...words });
    await ledger.accept('b1', { set: 'new-pier', views: [dusk.id], ...words });
    const pictures = await ledger.accepted(['new-pier', 'main']);
    expect(pictures.map(({ theme, set, shot }) => [theme, set, shot])).toEqual([
      ['dusk', 'new-pier', hashes(20)[0]],
      ['noon', 'main', hashes(10)[1]],
    ]);
    // A view the branch dropped is not looked for in the main line.
    await ledger.accept('b1', { set: 'new-pier', views: [], dropped: [dusk.id], ...words });
    expect((await ledger.accepted(['new-pier', 'main'])).map((picture) => picture.theme)).toEqual(['noon']);
    expect(await ledger.accepted(['main'])).toHaveLength(2);
  });

  test('what is in force already is not accepted anew; a view without a picture cannot be accepted', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1', views }, result: shade(10) });
    await storeNight(ledger, {
      run: { id: 'n2', views },
      result: (view) => (view.theme === 'dusk' ? failed(view) : shade(10)(view)),
    });
    expect((await ledger.accept('n1', { set: 'main', views: 'all', ...words })).views).toBe(2);
    expect((await ledger.accept('n2', { set: 'main', views: 'all', ...words })).views).toBe(0);
    await expect(ledger.accept('n2', { set: 'main', views: [dusk.id], ...words })).rejects.toMatchObject({
      code: 'view-not-captured',
      data: { view: dusk.id },
    });
    // Refused as a whole: nothing of it is recorded.
    expect(await ledger.acceptances()).toHaveLength(2);
  });

  test('samples and custom properties of the accepted capture can be read for explaining what changed', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1', views: [noon] } });
    await ledger.accept('n1', { set: 'main', views: 'all', ...words });
    const [picture] = await ledger.accepted(['main']);
    if (picture === undefined) throw new Error('a picture is accepted');
    expect(await ledger.acceptedFacts(picture)).toEqual(await ledger.samplesOf('n1', noon.id));
  });
});

describe('comparisons', () => {
  const found = (pixels: number): Difference => ({
    changedPixels: pixels,
    totalPixels: 64,
    regions: [{ kind: 'changed', current: [0, 0, 8, 1], accepted: [0, 0, 8, 1], pixels }],
    explanations: [
      {
        change: { kind: 'recoloured', token: '--silt-400', property: 'color', from: '#5b6770', to: '#616d76' },
        ...{
          group: 'recoloured --silt-400',
          selector: '#reading-1',
          key: 'reading-1',
          rect: [0, 0, 8, 1],
          pixels: pixels - 1,
          places: 1,
        },
      },
    ],
  });

  test('come back by verdict, a difference is computed once for the same two pictures, and changes are grouped over views', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' }, result: shade(10) });
    await ledger.accept('n1', { set: 'main', views: 'all', ...words });
    const plan = planOf();
    const accepted = new Map((await ledger.accepted(['main'])).map((picture) => [picture.id, picture.shot]));
    const compareAll = async (id: string, shadeOfNight: number): Promise<void> => {
      await ledger.beginRun(newRun({ id }));
      for (const view of plan) {
        const { shot } = await ledger.storeView(id, shade(shadeOfNight)(view));
        const pair = { accepted: accepted.get(view.id) ?? '', shot: shot ?? '', settings: 'threshold 0.01' };
        const known = await ledger.knownDifference(pair);
        const verdict = pair.accepted === shot ? 'same' : 'changed';
        const difference = verdict === 'same' ? {} : { difference: { found: known ?? found(9), settings: pair.settings } };
        await ledger.storeComparisons(id, [{ view, verdict, accepted: pair.accepted, ...difference }]);
      }
    };
    await compareAll('n2', 20);
    expect(await ledger.countComparisons('n2')).toEqual({ same: 0, changed: 8, new: 0, vanished: 0 });
    const { items } = await ledger.comparisons('n2', { verdict: 'changed' });
    expect(items[0]).toMatchObject({ accepted: hashes(10)[0], shot: hashes(20)[0], difference: found(9), widthCssPx: 1280 });
    expect(await ledger.changeGroups('n2')).toEqual([
      {
        group: 'recoloured --silt-400',
        change: found(9).explanations[0]?.change,
        views: plan.map((view) => view.id).sort(),
        ...{ pages: 4, themes: ['dusk', 'noon'], pixels: 8 * 8, ofPixels: 8 * 9 },
      },
    ]);
    const pair = { accepted: hashes(10)[0] ?? '', shot: hashes(20)[0] ?? '', settings: 'threshold 0.01' };
    expect(await ledger.knownDifference(pair)).toEqual(found(9));
    expect(await ledger.knownDifference({ ...pair, settings: 'threshold 0.1' })).toBeUndefined();
    await ledger.finishRun('n2', words.at);

    await compareAll('n3', 10);
    expect(await ledger.countComparisons('n3')).toMatchObject({ same: 8, changed: 0 });
    // Read in pages, they are the same list.
    const pages: string[] = [];
    let after: string | null = null;
    do {
      const slice: Awaited<ReturnType<typeof ledger.comparisons>> = await ledger.comparisons('n3', {
        limit: 3,
        ...(after === null ? {} : { after }),
      });
      pages.push(...slice.items.map((item) => item.id));
      after = slice.next;
    } while (after !== null);
    expect(pages).toEqual(plan.map((view) => view.id).sort());
  });

  test('new and vanished views are told', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1', views: [noon] } });
    await ledger.accept('n1', { set: 'main', views: 'all', ...words });
    await ledger.beginRun(newRun({ id: 'n2', views: [dusk] }));
    await ledger.storeView('n2', captured(dusk));
    const [gone] = await ledger.accepted(['main']);
    await ledger.storeComparisons('n2', [
      { view: dusk, verdict: 'new' },
      { view: noon, verdict: 'vanished', accepted: gone?.shot ?? '' },
    ]);
    const { items } = await ledger.comparisons('n2');
    expect(items.map(({ id, verdict, accepted, shot }) => ({ id, verdict, accepted, shot }))).toEqual([
      { id: dusk.id, verdict: 'new', accepted: null, shot: hashOf(captured(dusk).shot) },
      { id: noon.id, verdict: 'vanished', accepted: gone?.shot, shot: null },
    ]);
  });
});
