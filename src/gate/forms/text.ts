// The verdict at a terminal.
import { commandOf, addressOf, headline, moreOf, oneLine, tally } from './form.ts';
import type { Form, FormInput } from './form.ts';
import type { Criterion, GateVerdict } from '../verdict.ts';

export const text: Form = {
  file: 'gate.txt',
  about: 'plain text, as at the terminal',
  write: (input) => `${input.verdicts.map((verdict) => section(verdict, input)).join('\n\n')}\n`,
};

function section(verdict: GateVerdict, input: FormInput): string {
  const style = input.style ?? ((_style, plain: string): string => plain);
  const missing = verdict.criteria.filter((criterion) => !criterion.met);
  const holding = verdict.criteria.filter((criterion) => criterion.met);
  const notAsked = verdict.notAsked.map((said) => `  ${style('yellow', '?')} ${oneLine(said)}`);
  return [
    ...(notAsked.length > 0 ? [style('bold', `${verdict.theme}: not asked`), ...notAsked, ''] : []),
    style('bold', style(verdict.may ? 'green' : 'red', headline(verdict))),
    style('dim', `run ${verdict.run.id}, judged on ${verdict.today}; findings: ${tally(verdict)}`),
    ...(missing.length > 0 ? ['', style('bold', 'Open, nearest first')] : []),
    ...missing.flatMap((criterion) => missingLines(criterion, verdict, input)),
    ...(holding.length > 0 ? ['', style('bold', 'Holds')] : []),
    ...holding.map((criterion) => `  ${style('green', '+')} ${criterion.name}: ${criterion.found} (needed: ${criterion.needed})`),
    ...(verdict.warnings.length > 0 ? ['', style('bold', 'Mind')] : []),
    ...verdict.warnings.map((warning) => `  ${style('yellow', '!')} ${oneLine(warning)}`),
  ].join('\n');
}

function missingLines(criterion: Criterion, verdict: GateVerdict, input: FormInput): readonly string[] {
  const style = input.style ?? ((_style, plain: string): string => plain);
  return [
    `  ${style('red', '-')} ${style('bold', criterion.name)}: ${criterion.found} (needed: ${criterion.needed})`,
    `      ${criterion.step}`,
    ...criterion.links.flatMap((link) => {
      const where = input.report === null ? commandOf(link, verdict) : addressOf(link, verdict, input.report);
      const label = oneLine(link.label);
      return where === null ? [`      ${label}`] : [`      ${style('underline', where)}`, `        ${label}`];
    }),
    ...moreOf(criterion).map((line) => `      ${style('dim', line)}`),
  ];
}
