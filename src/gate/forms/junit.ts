// The verdict as JUnit results: a suite for each theme, a case for each criterion (tests/tables/schemas/junit-4.xsd).
import { addressOf, commandOf, escapeMarkup, moreOf, tally } from './form.ts';
import type { Form, FormInput } from './form.ts';
import type { Criterion, GateVerdict } from '../verdict.ts';

export const junit: Form = {
  file: 'gate.junit.xml',
  about: 'JUnit XML, for continuous integration',
  write: (input) => {
    const all = input.verdicts.flatMap((verdict) => verdict.criteria);
    return [
      '<?xml version="1.0" encoding="UTF-8"?>',
      `<testsuites${attributes({ name: 'gloam gate', tests: all.length, failures: all.filter((c) => !c.met).length, errors: 0 })}>`,
      ...input.verdicts.flatMap((verdict, i) => suite(verdict, i, input)),
      '</testsuites>',
      '',
    ].join('\n');
  },
};

/** XML 1.0, section 2.2: characters outside this range cannot be written, not even escaped. */
function legal(text: string): string {
  return text.replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '\ufffd');
}

function attributes(members: Readonly<Record<string, string | number>>): string {
  return Object.entries(members)
    .map(([name, value]) => ` ${name}="${escapeMarkup(legal(String(value)))}"`)
    .join('');
}

function suite(verdict: GateVerdict, index: number, input: FormInput): readonly string[] {
  const { criteria, run, theme, today } = verdict;
  const facts = {
    id: index,
    name: `gloam gate ${theme}`,
    package: 'gloam',
    tests: criteria.length,
    failures: criteria.filter((c) => !c.met).length,
    errors: 0,
    skipped: 0,
    time: 0,
    // Without a zone, as the schemas in use want it.
    timestamp: (run.finishedAt ?? run.startedAt).slice(0, 19),
  };
  const properties = [
    ...Object.entries({ run: run.id, gloam: run.gloam, browser: run.browser, judged: today }),
    ...verdict.notAsked.map((said): [string, string] => ['not-asked', said]),
  ];
  return [
    `  <testsuite${attributes(facts)}>`,
    '    <properties>',
    ...properties.map(([name, value]) => `      <property${attributes({ name, value })}/>`),
    '    </properties>',
    ...criteria.flatMap((criterion) => testcase(criterion, verdict, input)),
    `    <system-out>${escapeMarkup(legal([`findings: ${tally(verdict)}`, ...verdict.warnings].join('\n')))}</system-out>`,
    '  </testsuite>',
  ];
}

function testcase(criterion: Criterion, verdict: GateVerdict, { report }: FormInput): readonly string[] {
  const open = `    <testcase${attributes({ name: criterion.name, classname: `gloam.gate.${verdict.theme}`, time: 0 })}`;
  if (criterion.met) return [`${open}/>`];
  const links = criterion.links.map((link) => {
    const where = report === null ? commandOf(link, verdict) : addressOf(link, verdict, report);
    return where === null ? link.label : `${where}  ${link.label}`;
  });
  const message = `found ${criterion.found}; needed ${criterion.needed}`;
  return [
    `${open}>`,
    `      <failure${attributes({ type: criterion.id, message })}>${escapeMarkup(legal([criterion.step, ...links, ...moreOf(criterion)].join('\n')))}</failure>`,
    '    </testcase>',
  ];
}
