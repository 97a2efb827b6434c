// Expected values of this file are derived: counted by hand from the facts that each row writes down.
import { describe, expect, test } from 'vitest';
import { criteriaFor } from '../../src/gate/criteria-for.ts';
import type { GateVerdict } from '../../src/gate/verdict.ts';
import type { GateCriteria } from '../../src/plan/configuration.ts';
import type { CheckId, Level } from '../../src/samples/finding.ts';
import { cause, facts, finding, findings, judge, view } from './facts.ts';
import type { ToldFacts } from './facts.ts';

function verdictOf(criteria: Partial<GateCriteria>, over: Partial<ToldFacts> = {}): GateVerdict {
  return judge(facts(over), { criteria: { most: [], ...criteria }, configured: true });
}

function most(check: CheckId, count: number, level?: Level): Pick<GateCriteria, 'most'> {
  return { most: [level === undefined ? { check, count } : { check, count, level }] };
}

const exemption = { selector: '.old-chart', why: 'drawn by the survey office', covers: 2 } as const;

interface Row {
  readonly says: string;
  readonly criteria: Partial<GateCriteria>;
  readonly over?: Partial<ToldFacts>;
  /** Criteria that are missing: id, distance, and what was found. Empty: the theme may launch. */
  readonly missing: readonly (readonly [id: string, distance: number, found: string])[];
}

const ROWS: readonly Row[] = [
  { says: 'a theme without findings may launch', criteria: most('*', 0), missing: [] },
  {
    says: 'as many as allowed are allowed',
    criteria: most('neon', 2),
    over: { findings: findings('n', 2, { check: 'neon' }) },
    missing: [],
  },
  {
    says: 'one more than allowed is not',
    criteria: most('neon', 2),
    over: { findings: findings('n', 3, { check: 'neon' }) },
    missing: [['neon', 1, '3 findings']],
  },
  {
    says: 'another check does not count',
    criteria: most('glow', 0),
    over: { findings: findings('n', 3, { check: 'neon' }) },
    missing: [],
  },
  {
    says: 'a row with a level counts that level alone',
    criteria: most('text-contrast', 0, 'error'),
    over: { findings: findings('t', 4, { level: 'warning' }) },
    missing: [],
  },
  {
    says: 'a row without a level counts all levels',
    criteria: most('text-contrast', 1),
    over: { findings: [...findings('e', 1), ...findings('w', 1, { level: 'warning' }), ...findings('k', 1, { level: 'note' })] },
    missing: [['text-contrast', 2, '3 findings']],
  },
  {
    says: 'a star counts all checks together',
    criteria: most('*', 1, 'error'),
    over: { findings: [finding('a'), finding('b', { check: 'glow' })] },
    missing: [['*:error', 1, '2 findings']],
  },
  {
    says: 'exempt findings do not count',
    criteria: most('*', 0),
    over: { findings: findings('x', 9, { status: 'exempt' }) },
    missing: [],
  },
  {
    says: 'new ones are told apart',
    criteria: most('*', 0),
    over: { findings: [...findings('k', 2), ...findings('n', 3, { status: 'new' })] },
    missing: [['*', 5, '5 findings, 3 of them new']],
  },
  {
    says: 'the distance is counted in causes where causes are known: the largest is enough here',
    criteria: most('*', 3),
    over: {
      findings: [...findings('a', 6, { cause: 'ramp' }), ...findings('b', 2, { cause: 'use' }), finding('c')],
      causes: [cause('ramp'), cause('use', { layer: 'usage' })],
    },
    missing: [['*', 1, '9 findings']],
  },
  {
    says: 'causes first, then findings without one',
    criteria: most('*', 0),
    over: {
      findings: [...findings('a', 6, { cause: 'ramp' }), ...findings('b', 2, { cause: 'use' }), ...findings('c', 3)],
      causes: [cause('ramp'), cause('use', { layer: 'usage' })],
    },
    missing: [['*', 5, '11 findings']],
  },
  {
    says: 'a check that is off proves nothing',
    criteria: most('glow', 0),
    over: { off: ['glow'] },
    missing: [['glow', 1, 'the check is switched off, so nothing was looked for']],
  },
  {
    says: 'against a run, two thousand known findings are allowed',
    criteria: { ...most('*', 0), since: 'night-1' },
    over: {
      findings: findings('old', 2000),
      since: { run: 'night-1', findings: new Map(findings('old', 2000).map((f) => [f.id, 'error'])), views: new Set() },
    },
    missing: [],
  },
  {
    says: 'against a run, one it did not have is one too many',
    criteria: { ...most('*', 0), since: 'night-1' },
    over: {
      findings: [...findings('old', 2000), finding('fresh')],
      since: {
        run: 'night-1',
        findings: new Map(findings('old', 2000).map((f) => [f.id, 'error'])),
        views: new Set(['stations@dusk/rest/desk']),
      },
    },
    missing: [['*', 1, '1 finding, 2,000 more that it had already']],
  },
  {
    says: 'against a run, a warning grown to an error counts',
    criteria: { ...most('*', 0), since: 'night-1' },
    over: {
      findings: [finding('a')],
      since: { run: 'night-1', findings: new Map([['a', 'warning']]), views: new Set([finding('a').view]) },
    },
    missing: [['*', 1, '1 finding']],
  },
  {
    says: 'against a run, an error shrunk to a warning does not',
    criteria: { ...most('*', 0), since: 'night-1' },
    over: {
      findings: [finding('a', { level: 'warning' })],
      since: { run: 'night-1', findings: new Map([['a', 'error']]), views: new Set() },
    },
    missing: [],
  },
  {
    says: 'against a run, findings in views it did not capture are named as such',
    criteria: { ...most('*', 0), since: 'night-1' },
    over: { findings: [finding('a')], since: { run: 'night-1', findings: new Map(), views: new Set() } },
    missing: [['*', 1, '1 finding, 1 of them in views not captured then']],
  },
  {
    says: 'coverage is the share of colour uses through tokens; the distance is how many more are needed',
    criteria: { coverage: 0.9 },
    over: {
      coverage: [
        { owner: '', uses: 150, throughTokens: 140 },
        { owner: 'pilots', uses: 50, throughTokens: 30 },
      ],
    },
    missing: [['coverage', 10, '85.0 % (170 of 200 colour uses)']],
  },
  {
    says: 'coverage that is reached exactly is reached',
    criteria: { coverage: 0.7 },
    over: { coverage: [{ owner: '', uses: 10, throughTokens: 7 }] },
    missing: [],
  },
  {
    says: 'coverage of nothing is not known, so it does not hold',
    criteria: { coverage: 0.5 },
    missing: [['coverage', 1, 'not known: the run traced no colour of this theme']],
  },
  {
    says: 'an owner is held to their own part alone',
    criteria: { owners: { pilots: { ...most('*', 0), coverage: 0.9 } } },
    over: {
      findings: [finding('a', { owner: 'survey' }), finding('b')],
      coverage: [
        { owner: 'survey', uses: 10, throughTokens: 1 },
        { owner: 'pilots', uses: 10, throughTokens: 9 },
      ],
    },
    missing: [],
  },
  {
    says: 'an owner who falls short is named',
    criteria: { owners: { pilots: { ...most('*', 0), coverage: 0.9 } } },
    over: { findings: [finding('a', { owner: 'pilots' })], coverage: [{ owner: 'pilots', uses: 10, throughTokens: 6 }] },
    missing: [
      ['owner:pilots:*', 1, '1 finding'],
      ['owner:pilots:coverage', 3, '60.0 % (6 of 10 colour uses)'],
    ],
  },
  {
    says: 'a failed view is one too many',
    criteria: {},
    over: { views: [view('stations'), view('alarms', { status: 'failed', trouble: 'the page answered 500' }), view('berths')] },
    missing: [['views-failed', 1, '1 view failed, of 3']],
  },
  {
    says: 'so is one that was never rendered',
    criteria: {},
    over: {
      views: [view('stations'), view('alarms', { status: 'planned' }), view('berths', { status: 'failed', trouble: 'time-out' })],
    },
    missing: [['views-failed', 2, '1 view failed and 1 view not rendered, of 3']],
  },
  {
    says: 'a failed view may be allowed',
    criteria: { failed: 1 },
    over: { views: [view('stations'), view('alarms', { status: 'failed', trouble: 'time-out' }), view('berths')] },
    missing: [],
  },
  {
    says: 'a run without the theme proves nothing',
    criteria: { failed: 3 },
    over: { views: [], pages: [] },
    missing: [['views-failed', 1, 'the run has no view of this theme']],
  },
  {
    says: 'a view that keeps moving is one too many',
    criteria: {},
    over: {
      views: [
        view('stations', { status: 'failed', unsettled: true, trouble: 'pixels still move' }),
        view('alarms'),
        view('berths'),
      ],
    },
    missing: [['views-unsettled', 1, '1 view kept moving']],
  },
  {
    says: 'a page that is not in the run is missing',
    criteria: {},
    over: { pages: ['stations', 'alarms', 'berths', 'help', 'print'] },
    missing: [['pages-missing', 2, '2 pages missing: help and print']],
  },
  {
    says: 'accepted pictures are asked for only when wanted',
    criteria: { accepted: true },
    over: { views: [view('stations', { accepted: true }), view('alarms', { accepted: false }), view('berths')] },
    missing: [['pictures-accepted', 2, '2 views without one, of 3']],
  },
  {
    says: 'an exemption holds on its last day',
    criteria: {},
    over: { exemptions: [{ ...exemption, until: '2031-04-09' }] },
    missing: [],
  },
  {
    says: 'and not on the day after',
    criteria: {},
    over: { exemptions: [{ ...exemption, until: '2031-04-08', checks: ['glow'] }, exemption] },
    missing: [['exemptions-expired', 1, '1 exemption ended: .old-chart (glow) on 2031-04-08']],
  },
];

describe('the gate', () => {
  test.each(ROWS.map((row) => [row.says, row] as const))('%s', (_says, { criteria, over, missing }) => {
    const verdict = verdictOf(criteria, over);
    const found = verdict.criteria.filter((c) => !c.met).map((c) => [c.id, c.distance, c.found]);
    expect(found).toEqual(missing);
    expect(verdict.may).toBe(missing.length === 0);
    for (const criterion of verdict.criteria) {
      expect(criterion.met, criterion.id).toBe(criterion.distance === 0);
      expect(criterion.step === '', criterion.id).toBe(criterion.met);
    }
  });

  test('puts the nearest first, and what holds last in the order it is judged', () => {
    const verdict = verdictOf(
      {
        most: [
          { check: 'text-contrast', count: 0 },
          { check: 'glow', count: 0 },
          { check: 'neon', count: 0 },
        ],
        coverage: 1,
      },
      {
        findings: [...findings('t', 7), ...findings('g', 2, { check: 'glow' })],
        coverage: [{ owner: '', uses: 10, throughTokens: 6 }],
      },
    );
    expect(verdict.criteria.map((c) => c.id)).toEqual([
      'glow',
      'coverage',
      'text-contrast',
      'neon',
      'views-failed',
      'views-unsettled',
      'pages-missing',
    ]);
  });

  test('links lead to the causes that are enough, or to the findings', () => {
    const verdict = verdictOf(most('*', 1), {
      findings: [...findings('a', 4, { cause: 'ramp' }), ...findings('b', 2)],
      causes: [cause('ramp')],
    });
    const [criterion] = verdict.criteria;
    expect(criterion?.step).toBe('5 findings too many: mend 1 cause and 1 finding');
    expect(criterion?.links.map((link) => [link.kind, link.id])).toEqual([
      ['cause', 'ramp'],
      ['finding', 'b-1'],
    ]);
  });

  test('findings without a cause are linked in the order of the plan, then of their ids; causes by their worth', () => {
    const verdict = verdictOf(most('*', 0), {
      views: [view('tides'), view('stations')],
      findings: [
        ...findings('s', 2),
        finding('t-2', { page: 'tides' }),
        finding('t-1', { page: 'tides' }),
        ...findings('few', 1, { cause: 'few' }),
        ...findings('many', 2, { cause: 'many' }),
        ...findings('even', 1, { cause: 'even' }),
      ],
      causes: [cause('few'), cause('even'), cause('idle'), cause('many')],
    });
    expect(verdict.criteria.find(({ id }) => id === '*')?.links.map(({ id }) => id)).toEqual(['many', 'even', 'few', 't-1', 't-2']);
    // What no finding counts for is not told.
    expect(verdict.causes.map(({ id }) => id)).toEqual(['few', 'even', 'many']);
  });

  test('counts what is new, known, exempt and gone', () => {
    const verdict = verdictOf(most('*', 9), {
      findings: [...findings('n', 1, { status: 'new' }), ...findings('k', 2), ...findings('x', 3, { status: 'exempt' })],
      gone: 4,
    });
    expect(verdict.counts).toEqual({ new: 1, known: 2, exempt: 3, gone: 4 });
    expect(verdict.findings.map((f) => f.id)).toEqual(['n-1', 'k-1', 'k-2']);
  });

  test('warns of exemptions that end within two weeks and of those nothing needs', () => {
    const { warnings } = verdictOf(
      {},
      {
        exemptions: [
          { ...exemption, until: '2031-04-23', owner: 'survey office' },
          { ...exemption, selector: '.far', until: '2031-04-24' },
          { ...exemption, selector: '.idle', covers: 0 },
          { ...exemption, selector: '.last', until: '2031-04-09' },
        ],
      },
    );
    expect(warnings).toEqual([
      'The exemption of .old-chart ends in 14 days (2031-04-23, owner survey office).',
      'The exemption of .idle covers no finding of this run any more; take it out.',
      'The exemption of .last ends today (2031-04-09).',
    ]);
  });
});

describe('the criteria of a theme', () => {
  test('are its own rows laid over those of the star', () => {
    const gate = {
      '*': {
        most: [
          { check: 'glow', count: 5 },
          { check: 'neon', count: 1 },
        ],
        coverage: 0.5,
        accepted: true,
      },
      dusk: { most: [{ check: 'glow', count: 0 }], owners: { pilots: { most: [] } } },
    } as const;
    expect(criteriaFor(gate, 'dusk')).toEqual({
      configured: true,
      criteria: {
        most: [
          { check: 'glow', count: 0 },
          { check: 'neon', count: 1 },
        ],
        coverage: 0.5,
        accepted: true,
        owners: { pilots: { most: [] } },
      },
    });
    expect(criteriaFor(gate, 'noon').criteria).toBe(gate['*']);
  });

  test('are the least there can be when nobody configured any, and that is said', () => {
    const least = criteriaFor({}, 'dusk');
    expect(least.configured).toBe(false);
    const verdict = judge(facts({ findings: [finding('a', { level: 'warning' })] }), least);
    expect(verdict.may).toBe(true);
    expect(verdict.warnings).toEqual([
      'Nobody configured criteria for dusk; judged by the least: no finding of level error, no warning of unthemed, flipped, inverted-picture or neon.',
    ]);
    expect(judge(facts({ findings: [finding('a')] }), least).may).toBe(false);
  });
});
