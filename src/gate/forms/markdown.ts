// The verdict in Markdown, for a pull request or a job's summary page. Texts of pages under test are escaped.
import { addressOf, commandOf, headline, oneLine, tally, moreOf } from './form.ts';
import type { Form, FormInput } from './form.ts';
import type { Criterion, GateVerdict } from '../verdict.ts';

export const markdown: Form = {
  file: 'gate.md',
  about: 'Markdown, for a pull request or a job summary',
  write: (input) => `${input.verdicts.map((verdict) => section(verdict, input)).join('\n\n')}\n`,
};

/** Characters that mean something to CommonMark or to its tables (CommonMark 0.31, section 2.4). */
function escape(text: string): string {
  return (
    oneLine(text)
      .replace(/[&<]/g, (c) => (c === '&' ? '&amp;' : '&lt;'))
      .replace(/[\\`*_{}[\]#|~]/g, '\\$&')
      // A name behind an at sign would call people; a word joiner keeps it a word.
      .replace(/(?<!\w)@/g, '@\u2060')
  );
}

function section(verdict: GateVerdict, input: FormInput): string {
  const missing = verdict.criteria.filter((criterion) => !criterion.met);
  const links = missing.flatMap((criterion) => linkLines(criterion, verdict, input));
  const notAsked = verdict.notAsked.map((said) => `- ${escape(said)}`);
  return [
    ...(notAsked.length > 0 ? [`## ${escape(verdict.theme)}: not asked`, '', ...notAsked, ''] : []),
    `## ${verdict.may ? '✅' : '❌'} ${escape(headline(verdict))}`,
    '',
    `Run ${escape(verdict.run.id)}, judged on ${verdict.today}. Findings: ${tally(verdict)}.`,
    '',
    '| | criterion | needed | found | to do |',
    '| --- | --- | --- | --- | --- |',
    ...verdict.criteria.map(
      (c) =>
        `| ${c.met ? 'holds' : '**open**'} | ${escape(c.name)} | ${escape(c.needed)} | ${escape(c.found)} | ${escape(c.step)} |`,
    ),
    ...(links.length > 0 ? ['', '### Where to look, nearest first', '', ...links] : []),
    ...(verdict.warnings.length > 0 ? ['', '### Mind', '', ...verdict.warnings.map((warning) => `- ${escape(warning)}`)] : []),
  ].join('\n');
}

function linkLines(criterion: Criterion, verdict: GateVerdict, { report }: FormInput): readonly string[] {
  const links = criterion.links.map((link) => {
    const label = escape(link.label);
    if (report !== null) return `- ${escape(criterion.name)}: [${label}](<${addressOf(link, verdict, report)}>)`;
    const command = commandOf(link, verdict);
    return `- ${escape(criterion.name)}: ${label}${command === null ? '' : ` (\`${command}\`)`}`;
  });
  return [...links, ...moreOf(criterion).map((more) => `- ${escape(criterion.name)}: ${more}`)];
}
