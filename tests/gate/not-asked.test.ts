// What a verdict says nothing about stands above it, in every form; the least that is asked counts warnings of a page off its theme.
import { describe, expect, test } from 'vitest';
import { criteriaFor } from '../../src/gate/criteria-for.ts';
import { FORM_IDS, FORMS } from '../../src/gate/forms/table.ts';
import { facts, finding, judge, view } from './facts.ts';

const ALL = { criteria: { most: [{ check: '*', level: 'error', count: 0 }] }, configured: true } as const;

test.each([
  ['nothing where all was asked', {}, []],
  [
    'views that failed or were not rendered',
    { views: [view('stations'), view('alarms', { status: 'failed', trouble: 'it hung' }), view('berths', { status: 'planned' })] },
    [
      '1 view failed, nothing was looked for there: alarms@dusk/rest/desk.',
      '1 view not rendered, nothing was looked for there: berths@dusk/rest/desk.',
    ],
  ],
  ['pages that are missing', { views: [view('stations')] }, ['2 pages not in the run: alarms and berths.']],
  ['checks that are off', { off: ['neon', 'glow'] }, ['2 checks switched off: neon, glow.']],
  [
    'parts that were not looked into',
    { views: [view('stations', { unread: 'a frame' }), view('alarms', { unread: 'a frame' }), view('berths')] },
    ['In 2 views: a frame.'],
  ],
  [
    'findings that no criterion counts, the exempt ones left out',
    {
      findings: [
        finding('a', { level: 'warning', check: 'neon' }),
        finding('b', { level: 'warning', check: 'neon' }),
        finding('c', { level: 'warning', check: 'separation' }),
        finding('d', { level: 'note', check: 'glow' }),
        finding('e', { level: 'warning', check: 'glow', status: 'exempt' }),
        finding('f', { level: 'error' }),
      ],
    },
    ['3 warnings that no criterion counts: Neon 2, Separation 1.', '1 note that no criterion counts: Glow 1.'],
  ],
  [
    'a run that was narrowed',
    { run: { ...facts().run, partial: true } },
    ['The run was narrowed or is one part of several: what lies outside was not looked at.'],
  ],
] as const)('%s', (_, over, said) => {
  expect(judge(facts(over), ALL).notAsked).toEqual(said);
});

test('rows of an owner count what is that owner’s alone', () => {
  const findings = [finding('a', { level: 'warning', owner: 'pilots' }), finding('b', { level: 'warning' })];
  const criteria = { ...ALL.criteria, owners: { pilots: { most: [{ check: '*', count: 5 } as const] } } };
  expect(judge(facts({ findings }), { criteria, configured: true }).notAsked).toEqual([
    '1 warning that no criterion counts: Text contrast 1.',
  ]);
});

test.each(FORM_IDS)('%s says it before the verdict', (id) => {
  const verdict = judge(facts({ off: ['neon'] }), ALL);
  const written = FORMS[id].write({ verdicts: [verdict], version: '0.1.0', report: null, folder: '/harbour' });
  const said = written.indexOf('1 check switched off: neon.');
  expect(said).toBeGreaterThan(-1);
  const verdictAt: Readonly<Partial<Record<typeof id, string>>> = {
    text: 'may launch',
    markdown: 'may launch',
    sheet: 'class="verdict',
    junit: '<testcase',
    json: '"criteria"',
    sarif: '"results"',
  };
  expect(said).toBeLessThan(written.indexOf(verdictAt[id] ?? ''));
});

describe('without criteria of one’s own', () => {
  test.each(['unthemed', 'flipped', 'inverted-picture', 'neon'] as const)('a warning of %s is one too many', (check) => {
    const verdict = judge(facts({ findings: [finding('a', { check, level: 'warning' })] }), criteriaFor({}, 'dusk'));
    expect(verdict.may).toBe(false);
    expect(verdict.criteria.filter(({ met }) => !met).map(({ id }) => id)).toEqual([`${check}:warning`]);
  });

  test('other warnings, notes, and checks that are off hold nothing back', () => {
    const findings = [finding('a', { check: 'separation', level: 'warning' }), finding('b', { check: 'neon', level: 'note' })];
    const verdict = judge(facts({ findings, off: ['flipped'] }), criteriaFor({}, 'dusk'));
    expect(verdict.may).toBe(true);
    expect(verdict.notAsked).toHaveLength(3);
  });
});
