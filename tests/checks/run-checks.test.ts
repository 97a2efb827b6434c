import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findingId, fnv1a64 } from '../../src/checks/finding-id.ts';
import type { CheckSettings, JudgedView } from '../../src/checks/run-checks.ts';
import { runChecks } from '../../src/checks/run-checks.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { graphic, shadow, surface, textRun, view } from './made-samples.ts';

const SETTINGS: CheckSettings = { reference: 'noon', checks: {}, exempt: [], today: '2031-05-04', run: 'run-7' };

const faint = textRun({ color: '#777777', background: '#ffffff', key: 'faint' });
const noon: JudgedView = { view: view('noon'), tone: 'light', samples: [] };
const dusk = (...samples: readonly Sample[]): JudgedView => ({ view: view('dusk'), tone: 'dark', samples });
const judged = (sample: Sample, settings: Partial<CheckSettings> = {}): ReturnType<typeof runChecks> =>
  runChecks([noon, dusk(sample)], { ...SETTINGS, ...settings });

describe('finding names', () => {
  // published: RFC 9923 appendix, FNV-1a 64 bits
  test.each([
    ['', 'cbf29ce484222325'],
    ['a', 'af63dc4c8601ec8c'],
    ['foobar', '85944171f73967e8'],
  ])('%j hashes to %s', (text, hash) => {
    expect(fnv1a64(text)).toBe(hash);
  });

  // derived: FNV-1a over the UTF-8 bytes, the same loop on node's encoder
  test('bytes are those of UTF-8', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        let hash = 0xcbf29ce484222325n;
        for (const byte of Buffer.from(text)) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
        expect(fnv1a64(text)).toBe(hash.toString(16).padStart(16, '0'));
      }),
      { seed: 4901 },
    );
    expect(fnv1a64('\uD800')).toBe(fnv1a64('\uFFFD'));
  });

  test('depend on check, view and place, and on nothing else', () => {
    const id = findingId(view('dusk'), { check: 'glow', key: 'a' });
    expect(findingId(view('noon'), { check: 'glow', key: 'a' })).not.toBe(id);
    expect(findingId(view('dusk'), { check: 'neon', key: 'a' })).not.toBe(id);
    expect(findingId(view('dusk'), { check: 'glow', key: 'b' })).not.toBe(id);
    expect(findingId({ ...view('dusk'), id: 'whatever' }, { check: 'glow', key: 'a' })).toBe(id);
  });
});

describe('a group of views', () => {
  test('a finding carries its view, run and place', () => {
    expect(judged(faint)).toMatchObject([
      {
        check: 'text-contrast',
        view: 'quay@dusk/rest/desk',
        page: 'quay',
        theme: 'dusk',
        since: 'run-7',
        status: 'new',
        cause: null,
      },
    ]);
  });

  test('the order of samples changes neither findings nor names', () => {
    const samples = [
      faint,
      textRun({ color: '#888888', background: '#ffffff', key: 'fainter' }),
      shadow({ color: '#303030', beneath: '#121212', key: 'halo' }),
      surface({ color: '#5c5c5c', around: '#121212', key: 'slab' }),
      surface({ color: '#5c5c5c', around: '#121212', key: 'slab two', selector: '#gauge' }),
      shadow({ color: '#303030', beneath: '#121212', key: 'halo two', selector: '#other' }),
      graphic({ color: '#333333', against: '#121212', key: 'tick' }),
      graphic({ color: '#333333', against: '#121212', key: 'box' }),
      surface({ color: '#00e5ff', around: '#121212', key: 'neon one' }),
      surface({ color: '#00e5ff', around: '#121212', key: 'neon two' }),
    ];
    const ids = (order: readonly Sample[]): readonly string[] =>
      runChecks([noon, dusk(...order)], SETTINGS)
        .map((f) => f.id)
        .sort();
    fc.assert(
      fc.property(fc.shuffledSubarray(samples, { minLength: samples.length }), (order) => {
        expect(ids(order)).toEqual(ids(samples));
      }),
      { seed: 4902 },
    );
    expect(ids(samples)).toHaveLength(6); // what is alike is said once
  });

  test('themes are compared with the reference, the reference with nothing', () => {
    const before: JudgedView = { ...noon, samples: [surface({ color: '#ffffff', around: '#f5f7f9' })] };
    const found = runChecks([before, dusk(surface({ color: '#3a3a3a', around: '#121212' }))], SETTINGS);
    expect(found.map((f) => [f.theme, f.check])).toEqual([['dusk', 'separation']]);
    const alone = runChecks([before], SETTINGS);
    expect(alone).toEqual([]);
  });

  test('a check that is off says nothing; options reach it', () => {
    expect(judged(faint, { checks: { 'text-contrast': 'off' } })).toEqual([]);
    const halo = shadow({ color: '#1a1b1b', beneath: '#121212' });
    expect(judged(halo)).toHaveLength(1);
    expect(judged(halo, { checks: { glow: { leastGain: 6 } } })).toEqual([]);
  });

  test.each([
    ['matches', {}, 'exempt'],
    ['names the check', { checks: ['text-contrast'] }, 'exempt'],
    ['names another check', { checks: ['glow'] }, 'new'],
    ['ends today', { until: '2031-05-04' }, 'exempt'],
    ['ended yesterday', { until: '2031-05-03' }, 'new'],
    ['names the page', { pages: ['q*y'] }, 'exempt'],
    ['names another page', { pages: ['q.*y', 'board'] }, 'new'],
    ['names the theme', { themes: ['noon', 'dusk'] }, 'exempt'],
    ['names another theme', { themes: ['noon'] }, 'new'],
    ['names the state', { states: ['*'] }, 'exempt'],
    ['names another state', { states: ['hover'] }, 'new'],
  ] as const)('an exemption that %s', (_, rule, status) => {
    const found = judged(
      { ...faint, exemptions: [1] },
      {
        exempt: [
          { selector: '.a', checks: ['neon'], why: 'ornament' },
          { selector: '.b', ...rule, why: 'logotype' },
        ],
      },
    );
    expect(found.map((f) => f.status)).toEqual([status]);
    expect(found[0]?.exemption).toBe(status === 'exempt' ? 'logotype' : undefined);
  });

  test('an exemption that the sample does not name is no matter', () => {
    expect(judged(faint, { exempt: [{ selector: '.b', why: 'logotype' }] })[0]?.status).toBe('new');
    expect(judged({ ...faint, exemptions: [7] }, { exempt: [{ selector: '.b', why: 'logotype' }] })[0]?.status).toBe('new');
  });

  test('the element’s owner goes before the page’s', () => {
    expect(judged(faint, { pageOwner: 'office' })[0]?.owner).toBe('office');
    expect(judged({ ...faint, owner: 'gauges' }, { pageOwner: 'office' })[0]?.owner).toBe('gauges');
    expect(judged(faint)[0]).not.toHaveProperty('owner');
  });
});
