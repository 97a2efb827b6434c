// Each form of the verdict: held against the published schema where there is one, and read as its readers would read it.
import { readFileSync } from 'node:fs';
import ajvDraft04 from 'ajv-draft-04';
import ajvFormats from 'ajv-formats';
import { XmlDocument, XmlParseError, XmlValidateError, XsdValidator } from 'libxml2-wasm';
import { describe, expect, test } from 'vitest';
import type { FormInput } from '../../src/gate/forms/form.ts';
import { FORM_IDS, FORMS } from '../../src/gate/forms/table.ts';
import type { GateVerdict } from '../../src/gate/verdict.ts';
import { cause, facts, finding, findings, judge, view } from './facts.ts';

const schemas = new URL('../tables/schemas/', import.meta.url);

/** What a page under test may write into a report: markup, table bars, control characters, half a surrogate pair. */
const HOSTILE = 'Ebb </failure><script>alert(1)</script> | `low` &amp; "ebb"\u0000\u001b[31m\ud83c ]]> \u2028';

const refused: GateVerdict = judge(
  facts({
    findings: [
      ...findings('rim', 3, { cause: 'ramp', status: 'new' }),
      finding('label', { check: 'glow', level: 'warning', message: HOSTILE, selector: `[title="${HOSTILE}"]`, owner: 'pilots' }),
      finding('let', { status: 'exempt' }),
    ],
    causes: [cause('ramp', { why: HOSTILE })],
    views: [
      view('stations'),
      view('alarms', { status: 'failed', trouble: HOSTILE }),
      view('berths', { status: 'failed', unsettled: true, trouble: 'a needle kept moving' }),
    ],
    pages: ['stations', 'alarms', 'berths', 'help'],
    exemptions: [
      { selector: '.old-chart', why: HOSTILE, until: '2031-04-01', owner: 'survey office', covers: 1 },
      { selector: '.idle', why: 'nobody knows', covers: 0 },
    ],
    coverage: [{ owner: '', uses: 200, throughTokens: 170 }],
    gone: 2,
  }),
  {
    criteria: {
      most: [
        { check: 'text-contrast', level: 'error', count: 0 },
        { check: 'glow', count: 0 },
      ],
      coverage: 0.9,
    },
    configured: true,
  },
);
const granted: GateVerdict = judge(facts({ theme: 'stark' }), { criteria: { most: [{ check: '*', count: 0 }] }, configured: true });

function input(verdicts: readonly GateVerdict[], over: Partial<FormInput> = {}): FormInput {
  return { verdicts, version: '0.1.0', report: null, folder: '/harbour', ...over };
}

const CASES = [
  ['no and yes', input([refused, granted])],
  ['yes alone', input([granted])],
  ['with a report server', input([refused], { report: 'http://127.0.0.1:4807' })],
] as const;

describe('JUnit XML', () => {
  function read(text: string): XmlDocument {
    return XmlDocument.fromString(text);
  }
  function validator(): XsdValidator {
    const schema = XmlDocument.fromBuffer(readFileSync(new URL('junit-4.xsd', schemas)));
    return XsdValidator.fromDoc(schema);
  }

  test.each(CASES)('is valid by the schema: %s', (_name, given) => {
    expect(() => {
      validator().validate(read(FORMS.junit.write(given)));
    }).not.toThrow();
  });

  test('the schema would object to what it does not know (so the test above can fail)', () => {
    const broken = FORMS.junit.write(input([refused])).replace('classname=', 'klass=');
    expect(() => {
      validator().validate(read(broken));
    }).toThrow(XmlValidateError);
    expect(() => read('<testsuites>')).toThrow(XmlParseError);
  });

  test('has a case for each criterion, and a failure for each that is missing', () => {
    const document = read(FORMS.junit.write(input([refused, granted])));
    const count = (path: string): number => document.find(path).length;
    const all = [...refused.criteria, ...granted.criteria];
    expect(count('//testsuite')).toBe(2);
    expect(count('//testcase')).toBe(all.length);
    expect(count('//testcase/failure')).toBe(all.filter((c) => !c.met).length);
    expect(count(`/testsuites[@failures='${String(all.filter((c) => !c.met).length)}']`)).toBe(1);
  });
});

describe('SARIF', () => {
  // The schema's patterns are no Unicode patterns: one ends in a lone bracket.
  const ajv = new ajvDraft04.default({ strict: false, allErrors: true, unicodeRegExp: false });
  ajvFormats.default(ajv);
  const validate = ajv.compile(JSON.parse(readFileSync(new URL('sarif-2.1.0-rtm.5.json', schemas), 'utf8')) as object);

  test.each(CASES)('is valid by the schema: %s', (_name, given) => {
    validate(JSON.parse(FORMS.sarif.write(given)));
    expect(validate.errors ?? []).toEqual([]);
  });

  test('the schema would object to what it does not know (so the test above can fail)', () => {
    expect(validate(JSON.parse(FORMS.sarif.write(input([granted])).replace('"ruleIndex"', '"ruleNumber"')))).toBe(false);
  });

  interface Log {
    readonly runs: readonly {
      readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
      readonly results: readonly {
        readonly ruleId: string;
        readonly ruleIndex: number;
        readonly kind: string;
        readonly level: string;
        readonly baselineState?: string;
        readonly partialFingerprints?: Readonly<Record<string, string>>;
        readonly locations?: readonly { readonly physicalLocation?: unknown }[];
      }[];
    }[];
  }

  test('has a result for each criterion and each finding that counts, with the rule it points at', () => {
    const [run] = (JSON.parse(FORMS.sarif.write(input([refused]))) as Log).runs;
    expect(run?.results.length).toBe(refused.criteria.length + 4);
    for (const result of run?.results ?? []) {
      expect(run?.tool.driver.rules[result.ruleIndex]?.id).toBe(result.ruleId);
      // published: SARIF 2.1.0 section 3.27.10, a kind other than "fail" goes with level "none"
      expect(result.level === 'none').toBe(result.kind !== 'fail');
    }
  });

  test('a finding keeps its id as fingerprint, and lies where its cause was declared', () => {
    const [run] = (JSON.parse(FORMS.sarif.write(input([refused]))) as Log).runs;
    const results = run?.results.filter((r) => r.ruleId === 'text-contrast') ?? [];
    expect(results.map((r) => r.partialFingerprints?.['gloamFinding/v1'])).toEqual(['rim-1', 'rim-2', 'rim-3']);
    expect(results[0]?.baselineState).toBe('new');
    expect(results[0]?.locations?.[0]?.physicalLocation).toEqual({
      artifactLocation: { uri: 'tokens/ramps.json', uriBaseId: '%SRCROOT%' },
      region: { startLine: 31 },
    });
  });
});

describe('places in SARIF', () => {
  interface Place {
    readonly physicalLocation?: {
      readonly artifactLocation: { readonly uri: string; readonly uriBaseId?: string };
      readonly region?: { readonly startLine: number };
    };
  }
  const places = (given: FormInput): readonly (Place | undefined)[] =>
    (
      JSON.parse(FORMS.sarif.write(given)) as {
        readonly runs: readonly { readonly results: readonly { readonly locations?: readonly Place[] }[] }[];
      }
    ).runs.flatMap(({ results }) => results.map(({ locations }) => locations?.[0]));

  test('every result lies in a file of the repository: what pages load in the served folder, and else the configuration', () => {
    const given = input([refused], {
      folder: '/harbour',
      fallback: '/harbour/screens/gloam.config.json',
      locate: (file) => (file.startsWith('http') ? null : `/harbour/screens/site/${file}`),
    });
    const found = places(given);
    expect(found.length).toBe(refused.criteria.length + 4);
    for (const place of found) {
      const { uri = '', uriBaseId } = place?.physicalLocation?.artifactLocation ?? {};
      // A relative reference (RFC 3986, section 4.2), as code-scanning services want it.
      expect(uri).toMatch(/^screens\/(gloam\.config\.json|site\/)/);
      expect(uriBaseId).toBe('%SRCROOT%');
      expect(place?.physicalLocation?.region?.startLine).toBeGreaterThan(0);
    }
    expect(found.some((place) => place?.physicalLocation?.artifactLocation.uri.endsWith('tokens/ramps.json') === true)).toBe(true);
  });
});

describe('the other forms', () => {
  test('what is not named is counted', () => {
    const many = judge(
      facts({
        views: Array.from({ length: 31 }, (_, i) => view(`berth-${String(i)}`, { status: 'failed', trouble: 'it kept moving' })),
        pages: [],
      }),
      { criteria: { most: [] }, configured: true },
    );
    // derived: 31 views failed, 5 are named
    for (const id of ['text', 'markdown', 'junit'] as const) expect(FORMS[id].write(input([many]))).toContain('and 26 more');
  });

  test('JSON says who may launch, and names what counts', () => {
    const read = JSON.parse(FORMS.json.write(input([refused, granted]))) as {
      readonly may: boolean;
      readonly themes: readonly {
        readonly theme: string;
        readonly may: boolean;
        readonly run: string;
        readonly findings: readonly string[];
      }[];
    };
    expect(read.may).toBe(false);
    expect(read.themes.map((t) => [t.theme, t.may, t.run])).toEqual([
      ['dusk', false, 'night-7'],
      ['stark', true, 'night-7'],
    ]);
    expect(read.themes[0]?.findings).toEqual(['rim-1', 'rim-2', 'rim-3', 'label']);
  });

  test('Markdown keeps every row of its table whole, whatever a page wrote', () => {
    const lines = FORMS.markdown.write(input([refused])).split('\n');
    const rows = lines.filter((line) => line.startsWith('|'));
    expect(rows.length).toBe(refused.criteria.length + 2);
    for (const row of rows) expect(row.replaceAll('\\|', '').split('|').length, row).toBe(7);
    expect(lines.join('\n')).not.toContain('<script>');
  });

  test('the text names the nearest first, with the command that shows it', () => {
    const text = FORMS.text.write(input([refused]));
    expect(text).toMatch(/^dusk may not launch yet: 7 of 7 criteria are open$/m);
    expect(text).toContain('gloam explain rim-1');
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
  });

  test.each(FORM_IDS)('%s ends with a line break and holds no markup of a page under test', (id) => {
    const text = FORMS[id].write(input([refused, granted]));
    expect(text.endsWith('\n')).toBe(true);
    if (id === 'sheet' || id === 'junit') expect(text).not.toContain('<script');
  });

  test('the launch sheet has a page and a place for sign-off for each theme', () => {
    const sheet = FORMS.sheet.write(input([refused, granted]));
    expect(sheet.match(/<main>/g)?.length).toBe(2);
    expect(sheet.match(/Signed for/g)?.length).toBe(2);
    expect(sheet).toContain('no end');
  });
});
