// What a form is: verdicts → one text. Adding one is a file here and a line in table.ts.
import type { Criterion, GateJudgement, GateVerdict, Link } from '../verdict.ts';

export interface FormInput {
  /** At least one, all of the same run. */
  readonly verdicts: readonly GateVerdict[];
  /** Version of gloam. */
  readonly version: string;
  /** Address of a report server the links lead to; null: commands are named instead. */
  readonly report: string | null;
  /** Folder that files are named relative to, absolute: of the repository, or of the configuration. */
  readonly folder: string;
  /** Where a file of a chain lies on the disk, absolute; null for what is no file of the sources. */
  readonly locate?: (file: string) => string | null;
  /** File, absolute, that stands in where nothing nearer is known. */
  readonly fallback?: string;
  /** Marks words up for a terminal; plain where absent. */
  readonly style?: (style: 'bold' | 'dim' | 'red' | 'yellow' | 'green' | 'underline', text: string) => string;
}

export interface Form {
  /** File name it gets in a folder of forms. */
  readonly file: string;
  readonly about: string;
  write(input: FormInput): string;
}

export function mayAll(verdicts: readonly GateVerdict[]): boolean {
  return verdicts.every((verdict) => verdict.may);
}

/** `dusk may launch`, `dusk may not launch yet: 2 of 7 criteria are open`. */
export function headline({ theme, may, criteria, run }: GateJudgement): string {
  const foretold = run.foretold === true;
  if (may) return foretold ? `${theme} would launch, as far as can be foretold` : `${theme} may launch`;
  const open = criteria.filter((criterion) => !criterion.met).length;
  return `${theme} ${foretold ? 'would' : 'may'} not launch yet: ${String(open)} of ${String(criteria.length)} criteria ${open === 1 ? 'is' : 'are'} open`;
}

/** `3 new, 12 known, 2 exempt, 5 gone`. */
export function tally({ counts }: GateVerdict): string {
  return `${String(counts.new)} new, ${String(counts.known)} known, ${String(counts.exempt)} exempt, ${String(counts.gone)} gone`;
}

/** Where a link leads on the report server: its addresses are `#/SCREEN?name=value`. */
export function addressOf(link: Link, verdict: Pick<GateVerdict, 'run'>, report: string): string {
  const base = report.endsWith('/') ? report : `${report}/`;
  const run = { run: verdict.run.id };
  if (link.at === undefined) return `${base}#/causes?${queryOf({ ...run, cause: link.id })}`;
  const { page, theme, state, viewport } = link.at;
  const view = { ...run, page, theme, state, viewport };
  return `${base}#/page?${queryOf(link.kind === 'finding' ? { ...view, finding: link.id } : view)}`;
}

function queryOf(members: Readonly<Record<string, string>>): string {
  return Object.entries(members)
    .map(([name, value]) => `${name}=${encodeURIComponent(value)}`)
    .join('&');
}

/** `and 26 more`, where not all are named. */
export function moreOf({ more = 0 }: Criterion): readonly string[] {
  return more === 0 ? [] : [`and ${String(more)} more`];
}

/** The command that shows what a link is about, where there is one. */
export function commandOf(link: Link, verdict: GateVerdict): string | null {
  const finding =
    link.kind === 'finding' ? link.id : verdict.findings.find((f) => link.kind === 'cause' && f.cause === link.id)?.id;
  return finding === undefined ? null : `gloam explain ${finding}`;
}

/** Text of a page under test on one line: no line breaks, no control characters. */
export function oneLine(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ').trim();
}

export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (c) => `&#${String(c.charCodeAt(0))};`);
}
