// Each form of one verdict, whole: every line is worked out by hand from the verdict below and from what stands at the form.
import { describe, expect, test } from 'vitest';
import { addressOf, commandOf, escapeMarkup, headline, oneLine } from '../../src/gate/forms/form.ts';
import type { FormInput } from '../../src/gate/forms/form.ts';
import { FORMS } from '../../src/gate/forms/table.ts';
import type { Criterion, GateVerdict } from '../../src/gate/verdict.ts';
import { cause, facts, finding } from './facts.ts';

const PLACE = { page: 'stations', theme: 'dusk', state: 'rest', viewport: 'desk' };
const met = { met: true, distance: 0, step: '', links: [] };
const label = finding('label', { cause: 'ramp', status: 'new' });
const dial = finding('dial', { check: 'glow', level: 'warning', owner: 'pilots', message: 'The dial | glows.' });

const OPEN: readonly Criterion[] = [
  {
    ...{ id: 'glow', name: 'Glow', met: false, needed: 'none', found: '9 findings', distance: 2 },
    step: '9 findings too many: mend 2 causes',
    links: [
      { kind: 'cause', id: 'ramp', label: 'ramp: silt.600' },
      { kind: 'cause', id: 'elsewhere', label: 'token: edge' },
      { kind: 'finding', id: 'dial', label: 'The dial | glows.', at: PLACE },
    ],
    more: 4,
  },
  {
    ...{ id: 'views-failed', name: 'Views captured', met: false, needed: 'every view', found: '1 view failed, of 3', distance: 1 },
    step: 'run again',
    links: [{ kind: 'view', id: 'v', label: 'v: it\nhung', at: { ...PLACE, page: 'all berths' } }],
  },
];
const HOLDS: readonly Criterion[] = [
  { id: 'coverage', name: 'Colours through tokens', needed: 'at least 90.0 %', found: '95.0 % (19 of 20 colour uses)', ...met },
  { id: 'pages-missing', name: 'Pages present', needed: 'all 3 pages', found: 'all of them', ...met },
];
const { run } = facts();
const nobody = {
  counts: { new: 0, known: 0, exempt: 0, gone: 0 },
  exemptions: [],
  notAsked: [],
  warnings: [],
  causes: [],
  findings: [],
};

const DUSK: GateVerdict = {
  theme: 'dusk',
  run,
  today: '2031-04-10',
  may: false,
  criteria: [...OPEN, ...HOLDS],
  counts: { new: 1, known: 12, exempt: 3, gone: 5 },
  exemptions: [],
  notAsked: ['1 check switched off: neon.'],
  warnings: ['Mind the ebb.', 'And the\u0000 flow.'],
  since: 'night-5',
  causes: [cause('ramp', { why: 'It is too dark.' })],
  findings: [label, dial],
};
const STARK: GateVerdict = { theme: 'stark', run, today: '2031-04-10', may: true, criteria: HOLDS, since: null, ...nobody };

function input(verdicts: readonly GateVerdict[], over: Partial<FormInput> = {}): FormInput {
  return { verdicts, version: '0.1.0', report: null, folder: '/harbour', ...over };
}

const REPORT = 'http://127.0.0.1:4807';
const AT_CAUSE = `${REPORT}/#/causes?run=night-7&cause=`;
const AT_PAGE = `${REPORT}/#/page?run=night-7&page=`;
const AT_DIAL = `${AT_PAGE}stations&theme=dusk&state=rest&viewport=desk&finding=dial`;
const AT_VIEW = `${AT_PAGE}all%20berths&theme=dusk&state=rest&viewport=desk`;

describe('text', () => {
  test('with commands: of a finding, and of a cause by one of its findings', () => {
    expect(FORMS.text.write(input([DUSK, STARK]))).toBe(`dusk: not asked
  ? 1 check switched off: neon.

dusk may not launch yet: 2 of 4 criteria are open
run night-7, judged on 2031-04-10; findings: 1 new, 12 known, 3 exempt, 5 gone

Open, nearest first
  - Glow: 9 findings (needed: none)
      9 findings too many: mend 2 causes
      gloam explain label
        ramp: silt.600
      token: edge
      gloam explain dial
        The dial | glows.
      and 4 more
  - Views captured: 1 view failed, of 3 (needed: every view)
      run again
      v: it hung

Holds
  + Colours through tokens: 95.0 % (19 of 20 colour uses) (needed: at least 90.0 %)
  + Pages present: all of them (needed: all 3 pages)

Mind
  ! Mind the ebb.
  ! And the  flow.

stark may launch
run night-7, judged on 2031-04-10; findings: 0 new, 0 known, 0 exempt, 0 gone

Holds
  + Colours through tokens: 95.0 % (19 of 20 colour uses) (needed: at least 90.0 %)
  + Pages present: all of them (needed: all 3 pages)
`);
  });

  test('with addresses and marks of a terminal, and nothing that holds', () => {
    const style: FormInput['style'] = (name, plain) => `<${name}>${plain}</${name}>`;
    expect(FORMS.text.write(input([{ ...DUSK, criteria: OPEN, notAsked: ['a'], warnings: ['b'] }], { report: REPORT, style })))
      .toBe(`<bold>dusk: not asked</bold>
  <yellow>?</yellow> a

<bold><red>dusk may not launch yet: 2 of 2 criteria are open</red></bold>
<dim>run night-7, judged on 2031-04-10; findings: 1 new, 12 known, 3 exempt, 5 gone</dim>

<bold>Open, nearest first</bold>
  <red>-</red> <bold>Glow</bold>: 9 findings (needed: none)
      9 findings too many: mend 2 causes
      <underline>${AT_CAUSE}ramp</underline>
        ramp: silt.600
      <underline>${AT_CAUSE}elsewhere</underline>
        token: edge
      <underline>${AT_DIAL}</underline>
        The dial | glows.
      <dim>and 4 more</dim>
  <red>-</red> <bold>Views captured</bold>: 1 view failed, of 3 (needed: every view)
      run again
      <underline>${AT_VIEW}</underline>
        v: it hung

<bold>Mind</bold>
  <yellow>!</yellow> b
`);
    expect(FORMS.text.write(input([{ ...STARK, criteria: HOLDS.slice(1) }], { style })))
      .toBe(`<bold><green>stark may launch</green></bold>
<dim>run night-7, judged on 2031-04-10; findings: 0 new, 0 known, 0 exempt, 0 gone</dim>

<bold>Holds</bold>
  <green>+</green> Pages present: all of them (needed: all 3 pages)
`);
  });
});

const TABLE = `| | criterion | needed | found | to do |
| --- | --- | --- | --- | --- |`;
const HOLDING = `| holds | Colours through tokens | at least 90.0 % | 95.0 % (19 of 20 colour uses) |  |
| holds | Pages present | all 3 pages | all of them |  |`;

describe('Markdown', () => {
  test('with commands', () => {
    expect(FORMS.markdown.write(input([DUSK, STARK]))).toBe(`## dusk: not asked

- 1 check switched off: neon.

## ❌ dusk may not launch yet: 2 of 4 criteria are open

Run night-7, judged on 2031-04-10. Findings: 1 new, 12 known, 3 exempt, 5 gone.

${TABLE}
| **open** | Glow | none | 9 findings | 9 findings too many: mend 2 causes |
| **open** | Views captured | every view | 1 view failed, of 3 | run again |
${HOLDING}

### Where to look, nearest first

- Glow: ramp: silt.600 (\`gloam explain label\`)
- Glow: token: edge
- Glow: The dial \\| glows. (\`gloam explain dial\`)
- Glow: and 4 more
- Views captured: v: it hung

### Mind

- Mind the ebb.
- And the  flow.

## ✅ stark may launch

Run night-7, judged on 2031-04-10. Findings: 0 new, 0 known, 0 exempt, 0 gone.

${TABLE}
${HOLDING}
`);
  });

  test('with addresses', () => {
    expect(FORMS.markdown.write(input([{ ...DUSK, criteria: OPEN.slice(1), notAsked: [], warnings: [] }], { report: REPORT })))
      .toBe(`## ❌ dusk may not launch yet: 1 of 1 criteria is open

Run night-7, judged on 2031-04-10. Findings: 1 new, 12 known, 3 exempt, 5 gone.

${TABLE}
| **open** | Views captured | every view | 1 view failed, of 3 | run again |

### Where to look, nearest first

- Views captured: [v: it hung](<${AT_VIEW}>)
`);
  });

  test.each([
    // CommonMark 0.31, section 2.4: a backslash before punctuation makes it plain
    ['a*b_c', String.raw`a\*b\_c`],
    ['[x]{y}#~`\\', String.raw`\[x\]\{y\}\#\~\`` + String.raw`\\`],
    ['<b> & c', '&lt;b> &amp; c'],
    // A person is named by an at sign where a word starts; within a word it is an address or a theme.
    ['@pilot, a@b', '@\u2060pilot, a@b'],
  ])('of %s nothing is taken for markup', (name, written) => {
    expect(FORMS.markdown.write(input([{ ...STARK, criteria: [{ ...met, id: 'x', name, needed: 'n', found: 'f' }] }]))).toContain(
      `\n| holds | ${written} | n | f |  |\n`,
    );
  });
});

describe('JUnit XML', () => {
  const suite = (id: number, theme: string, counts: string): string =>
    `  <testsuite id="${String(id)}" name="gloam gate ${theme}" package="gloam" ${counts} errors="0" skipped="0" time="0" timestamp="2031-04-09T02:11:30">
    <properties>
      <property name="run" value="night-7"/>
      <property name="gloam" value="0.1.0"/>
      <property name="browser" value="Chromium 156"/>
      <property name="judged" value="2031-04-10"/>`;
  const holding = (theme: string): string => `    <testcase name="Colours through tokens" classname="gloam.gate.${theme}" time="0"/>
    <testcase name="Pages present" classname="gloam.gate.${theme}" time="0"/>`;

  test('with commands: a suite for each theme, a failure for each open criterion', () => {
    // XML 1.0, section 2.2: U+0000 cannot be written; U+FFFD stands for it
    expect(FORMS.junit.write(input([DUSK, STARK]))).toBe(`<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="gloam gate" tests="6" failures="2" errors="0">
${suite(0, 'dusk', 'tests="4" failures="2"')}
      <property name="not-asked" value="1 check switched off: neon."/>
    </properties>
    <testcase name="Glow" classname="gloam.gate.dusk" time="0">
      <failure type="glow" message="found 9 findings; needed none">9 findings too many: mend 2 causes
gloam explain label  ramp: silt.600
token: edge
gloam explain dial  The dial | glows.
and 4 more</failure>
    </testcase>
    <testcase name="Views captured" classname="gloam.gate.dusk" time="0">
      <failure type="views-failed" message="found 1 view failed, of 3; needed every view">run again
v: it
hung</failure>
    </testcase>
${holding('dusk')}
    <system-out>findings: 1 new, 12 known, 3 exempt, 5 gone
Mind the ebb.
And the\ufffd flow.</system-out>
  </testsuite>
${suite(1, 'stark', 'tests="2" failures="0"')}
    </properties>
${holding('stark')}
    <system-out>findings: 0 new, 0 known, 0 exempt, 0 gone</system-out>
  </testsuite>
</testsuites>
`);
  });

  test('with addresses; a run that did not end bears the time it began', () => {
    const written = FORMS.junit.write(input([{ ...DUSK, run: { ...run, finishedAt: null } }], { report: REPORT }));
    expect(written).toContain(`\n${AT_VIEW.replaceAll('&', '&#38;')}  v: it\nhung</failure>`);
    expect(written).toContain('timestamp="2031-04-09T02:00:00"');
  });
});

describe('JSON', () => {
  test('has the verdict as it is; of findings and causes their ids', () => {
    const exemption = { selector: '.old-chart', why: 'survey', covers: 2 };
    const verdict: GateVerdict = {
      ...DUSK,
      criteria: OPEN.slice(1),
      exemptions: [{ exemption, state: 'holds', daysLeft: null, idle: false }],
    };
    expect(JSON.parse(FORMS.json.write(input([verdict])))).toEqual({
      format: 'gloam-gate/1',
      gloam: '0.1.0',
      may: false,
      themes: [
        {
          theme: 'dusk',
          notAsked: ['1 check switched off: neon.'],
          today: '2031-04-10',
          may: false,
          criteria: OPEN.slice(1),
          counts: { new: 1, known: 12, exempt: 3, gone: 5 },
          warnings: DUSK.warnings,
          since: 'night-5',
          run: 'night-7',
          startedAt: '2031-04-09T02:00:00.000Z',
          finishedAt: '2031-04-09T02:11:30.000Z',
          exemptions: [{ ...exemption, state: 'holds', daysLeft: null, idle: false }],
          findings: ['label', 'dial'],
          causes: ['ramp'],
        },
      ],
    });
    expect(JSON.parse(FORMS.json.write(input([STARK])))).toMatchObject({ may: true });
    expect(JSON.parse(FORMS.json.write(input([STARK, verdict])))).toMatchObject({ may: false });
  });
});

describe('SARIF 2.1.0', () => {
  const read = (given: FormInput): unknown => JSON.parse(FORMS.sarif.write(given));
  const criterion = (index: number, id: string, text: string, open: boolean): unknown => ({
    ruleId: `gate/${id}`,
    ruleIndex: index,
    // section 3.27.10: a result that is no failure has level "none"
    ...(open ? { kind: 'fail', level: 'error' } : { kind: 'pass', level: 'none' }),
    message: { text },
  });
  const properties = {
    page: 'stations',
    theme: 'dusk',
    state: 'rest',
    viewport: 'desk',
    rect: [40, 120, 96, 18],
    since: 'night-1',
  };
  const element = (id: string): unknown => ({
    name: `#${id}`,
    fullyQualifiedName: `stations@dusk/rest/desk #${id}`,
    kind: 'element',
  });

  test('of a verdict that says no', () => {
    expect(read(input([DUSK]))).toEqual({
      $schema: 'https://json.schemastore.org/sarif-2.1.0-rtm.5.json',
      version: '2.1.0',
      runs: [
        {
          tool: {
            driver: {
              name: 'gloam',
              semanticVersion: '0.1.0',
              rules: [
                { id: 'gate/glow', shortDescription: { text: 'Launch criterion: Glow' } },
                { id: 'gate/views-failed', shortDescription: { text: 'Launch criterion: Views captured' } },
                { id: 'gate/coverage', shortDescription: { text: 'Launch criterion: Colours through tokens' } },
                { id: 'gate/pages-missing', shortDescription: { text: 'Launch criterion: Pages present' } },
                { id: 'text-contrast', shortDescription: { text: 'Text contrast' } },
                { id: 'glow', shortDescription: { text: 'Glow' } },
              ],
            },
          },
          automationDetails: { id: 'gloam/dusk/night-7' },
          invocations: [
            {
              executionSuccessful: true,
              startTimeUtc: '2031-04-09T02:00:00.000Z',
              endTimeUtc: '2031-04-09T02:11:30.000Z',
              exitCode: 1,
              toolExecutionNotifications: [{ level: 'warning', message: { text: '1 check switched off: neon.' } }],
            },
          ],
          columnKind: 'utf16CodeUnits',
          results: [
            criterion(0, 'glow', 'Glow: found 9 findings; needed none. 9 findings too many: mend 2 causes.', true),
            criterion(1, 'views-failed', 'Views captured: found 1 view failed, of 3; needed every view. run again.', true),
            criterion(2, 'coverage', 'Colours through tokens: found 95.0 % (19 of 20 colour uses); needed at least 90.0 %.', false),
            criterion(3, 'pages-missing', 'Pages present: found all of them; needed all 3 pages.', false),
            {
              ruleId: 'text-contrast',
              ruleIndex: 4,
              kind: 'fail',
              level: 'error',
              message: { text: `${label.message} Cause: ramp: silt.600; It is too dark.` },
              locations: [
                {
                  physicalLocation: {
                    artifactLocation: { uri: 'tokens/ramps.json', uriBaseId: '%SRCROOT%' },
                    region: { startLine: 31 },
                  },
                  logicalLocations: [element('label')],
                },
              ],
              partialFingerprints: { 'gloamFinding/v1': 'label' },
              baselineState: 'new',
              properties: { ...properties, cause: 'ramp' },
            },
            {
              ruleId: 'glow',
              ruleIndex: 5,
              kind: 'fail',
              level: 'warning',
              message: { text: 'The dial | glows.' },
              locations: [{ logicalLocations: [element('dial')] }],
              partialFingerprints: { 'gloamFinding/v1': 'dial' },
              baselineState: 'unchanged',
              properties: { ...properties, owner: 'pilots' },
            },
          ],
        },
      ],
    });
  });

  test('of a verdict that says yes on a run that did not end, with a report and a file that stands in', () => {
    const verdict: GateVerdict = { ...STARK, run: { ...run, finishedAt: null }, criteria: HOLDS.slice(1), findings: [dial] };
    const place = { artifactLocation: { uri: 'gloam.config.json', uriBaseId: '%SRCROOT%' }, region: { startLine: 1 } };
    expect(read(input([verdict], { report: REPORT, fallback: '/harbour/gloam.config.json' }))).toMatchObject({
      runs: [
        {
          invocations: [{ executionSuccessful: false, startTimeUtc: '2031-04-09T02:00:00.000Z', exitCode: 0 }],
          results: [
            { locations: [{ physicalLocation: place }] },
            { locations: [{ physicalLocation: place }], hostedViewerUri: AT_DIAL },
          ],
        },
      ],
    });
    expect(FORMS.sarif.write(input([verdict]))).not.toMatch(
      /endTimeUtc|toolExecutionNotifications|hostedViewerUri|physicalLocation/,
    );
  });

  // RFC 8089: file addresses; SARIF 2.1.0 section 3.14.14: what lies under the source root is relative to it.
  test.each([
    ['/harbour/a b/c.json', '/harbour', { uri: 'a%20b/c.json', uriBaseId: '%SRCROOT%' }],
    ['/harbour/c.json', '/harbour/', { uri: 'c.json', uriBaseId: '%SRCROOT%' }],
    ['/harbours/c.json', '/harbour', { uri: 'file:///harbours/c.json' }],
    ['C:\\harbour\\c.json', 'C:\\harbour', { uri: 'c.json', uriBaseId: '%SRCROOT%' }],
    ['C:\\quay\\c.json', 'C:\\harbour', { uri: 'file:///C:/quay/c.json' }],
    ['https://quay.test/a b.css', '/harbour', { uri: 'https://quay.test/a%20b.css' }],
    ['http://quay.test/a.css', '/harbour', { uri: 'http://quay.test/a.css' }],
    ['/quay/C:/c.css', '/harbour', { uri: 'file:///quay/C%3A/c.css' }],
    ['site/http:/c.css', '/harbour', { uri: 'site/http%3A/c.css', uriBaseId: '%SRCROOT%' }],
    ['site/C:/c.css', '/harbour', { uri: 'site/C%3A/c.css', uriBaseId: '%SRCROOT%' }],
  ])('a file %s, seen from %s', (file, folder, artifactLocation) => {
    const told = { ...dial, measured: { file, line: 7 } };
    expect(read(input([{ ...STARK, criteria: [], findings: [told] }], { folder }))).toMatchObject({
      runs: [{ results: [{ locations: [{ physicalLocation: { artifactLocation, region: { startLine: 7 } } }] }] }],
    });
  });

  test('a place is the last of the chain among the sources, then the file that is named, then what stands in', () => {
    const placed = (file: string | null, over: Partial<FormInput> = {}): unknown => {
      const told = { ...label, ...(file === null ? {} : { measured: { file } }) };
      const [one] = (
        read(input([{ ...DUSK, criteria: [], findings: [told] }], over)) as {
          readonly runs: readonly {
            readonly results: readonly { readonly locations: readonly { readonly physicalLocation?: unknown }[] }[];
          }[];
        }
      ).runs;
      return one?.results[0]?.locations[0]?.physicalLocation;
    };
    const at = (uri: string, startLine?: number): unknown => ({
      artifactLocation: { uri, uriBaseId: '%SRCROOT%' },
      ...(startLine === undefined ? {} : { region: { startLine } }),
    });
    expect(placed('/harbour/named.json')).toEqual(at('tokens/ramps.json', 31));
    expect(placed(null, { locate: (file) => (file.endsWith('dusk.json') ? file : null) })).toEqual(at('tokens/dusk.json', 14));
    expect(placed('/harbour/named.json', { locate: (file) => (file.endsWith('named.json') ? file : null) })).toEqual(
      at('named.json'),
    );
    expect(placed('/harbour/named.json', { locate: () => null, fallback: '/harbour/f.json' })).toEqual(at('f.json', 1));
    expect(placed(null, { locate: () => null })).toBeUndefined();
  });
});

test('headlines: what is foretold would, one open criterion is, several are', () => {
  const foretold: GateVerdict = { ...STARK, run: { ...run, foretold: true } };
  expect(headline(foretold)).toBe('stark would launch, as far as can be foretold');
  expect(headline({ ...foretold, may: false, criteria: OPEN })).toBe('stark would not launch yet: 2 of 2 criteria are open');
  expect(headline({ ...STARK, may: false, criteria: [...OPEN.slice(1), ...HOLDS] })).toBe(
    'stark may not launch yet: 1 of 3 criteria is open',
  );
});

test('an address is the same with and without a slash behind the server’s; what has a command is a finding, or a cause of one', () => {
  const view = { kind: 'view', id: 'v', label: '', at: { page: 'a&b', theme: 'd', state: 's', viewport: 'w' } } as const;
  for (const report of ['http://h', 'http://h/'])
    expect(addressOf(view, DUSK, report)).toBe('http://h/#/page?run=night-7&page=a%26b&theme=d&state=s&viewport=w');
  expect(commandOf(view, DUSK)).toBeNull();
  // A view that happens to be called like a cause is none.
  expect(commandOf({ ...view, id: 'ramp' }, DUSK)).toBeNull();
});

test('a text of a page stays on its line, and is no markup', () => {
  // C0, DEL and C1 controls, line and paragraph separators: a run of them is one blank
  expect(oneLine(' a\u0000\u001fb\u007f\u009fc\u2028\u2029d\n')).toBe('a b c d');
  expect(oneLine('\u00a0 ~ \u2027')).toBe('~ \u2027');
  expect(escapeMarkup(`<&>"'a`)).toBe('&#60;&#38;&#62;&#34;&#39;a');
});
