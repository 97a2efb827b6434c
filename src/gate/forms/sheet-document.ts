// The launch sheet as a document: what stands on it, in its order. The file, the screen and the paper are written from this alone.
import type { GateJudgement, Link } from '../verdict.ts';
import { coverWords, exemptionScope, exemptionWarnings } from '../exemption-standing.ts';
import { causeTitle } from '../words.ts';
import { headline } from './form.ts';

export interface SheetDocument {
  readonly theme: string;
  readonly may: boolean;
  readonly headline: string;
  /** What the verdict says nothing about. */
  readonly notAsked: readonly string[];
  readonly facts: readonly { readonly name: string; readonly value: string }[];
  /** Unmet criteria, nearest first. */
  readonly open: readonly {
    readonly name: string;
    readonly needed: string;
    readonly found: string;
    readonly step: string;
    readonly link: Link | null;
  }[];
  readonly holds: readonly { readonly name: string; readonly found: string; readonly needed: string }[];
  readonly causes: readonly { readonly id: string; readonly title: string; readonly findings: number; readonly why: string }[];
  readonly exemptions: readonly {
    readonly scope: string;
    readonly why: string;
    readonly owner: string;
    readonly until: string;
    readonly over: boolean;
    readonly covers: string;
  }[];
  readonly warnings: readonly string[];
  /** How many of each list are left out. */
  readonly more: { readonly notAsked: number; readonly causes: number; readonly exemptions: number; readonly warnings: number };
  readonly signOff: readonly string[];
  readonly foot: string;
}

/** Rows of the longer lists; with these a sheet still fits on one side of A4 (tried by printing). */
const MOST_EXEMPTIONS = 6;
const MOST_CAUSES = 5;
const MOST_WARNINGS = 4;

const UNTIL_WORDS = { holds: '', ending: ', soon', expired: ', over' } as const;
const SIGN_OFF = ['Design', 'Engineering', 'Product'] as const;

/** @param worth open findings of the theme by id of their cause @param version of gloam */
export function sheetDocument(
  verdict: GateJudgement,
  { worth, version }: { readonly worth: ReadonlyMap<string, number>; readonly version: string },
): SheetDocument {
  const { run, counts, criteria, exemptions, notAsked, since } = verdict;
  const worthOf = (cause: { readonly id: string }): number => worth.get(cause.id) ?? 0;
  const ranked = [...verdict.causes].sort((a, b) => worthOf(b) - worthOf(a));
  // What the table of exemptions shows already is left out.
  const shown = new Set(exemptionWarnings(exemptions));
  const warnings = verdict.warnings.filter((warning) => !shown.has(warning));
  const left = (all: readonly unknown[], most: number): number => Math.max(0, all.length - most);
  return {
    theme: verdict.theme,
    may: verdict.may,
    headline: headline(verdict),
    notAsked: notAsked.slice(0, MOST_WARNINGS),
    facts: [
      { name: 'Run', value: run.id },
      { name: 'Rendered', value: day(run.finishedAt ?? run.startedAt) },
      { name: 'Judged', value: verdict.today },
      { name: 'New', value: String(counts.new) },
      { name: 'Known', value: String(counts.known) },
      { name: 'Exempt', value: String(counts.exempt) },
      { name: 'Gone', value: String(counts.gone) },
    ],
    open: criteria
      .filter(({ met }) => !met)
      .map(({ name, needed, found, step, links: [link] }) => ({ name, needed, found, step, link: link ?? null })),
    holds: criteria.filter(({ met }) => met).map(({ name, found, needed }) => ({ name, found, needed })),
    causes: ranked
      .slice(0, MOST_CAUSES)
      .map((cause) => ({ id: cause.id, title: causeTitle(cause), findings: worthOf(cause), why: cause.why })),
    exemptions: exemptions.slice(0, MOST_EXEMPTIONS).map(({ exemption, state }) => ({
      scope: exemptionScope({ exemption }),
      why: exemption.why,
      owner: exemption.owner ?? 'nobody',
      until: exemption.until === undefined ? 'no end' : `${exemption.until}${UNTIL_WORDS[state]}`,
      over: state === 'expired',
      covers: coverWords(exemption.covers),
    })),
    warnings: warnings.slice(0, MOST_WARNINGS),
    more: {
      notAsked: left(notAsked, MOST_WARNINGS),
      causes: left(ranked, MOST_CAUSES),
      exemptions: left(exemptions, MOST_EXEMPTIONS),
      warnings: left(warnings, MOST_WARNINGS),
    },
    signOff: SIGN_OFF,
    foot: `gloam ${version}, ${run.browser}${since === null ? '' : `, compared with run ${since}`}`,
  };
}

/** `2031-04-09 02:11 UTC` of an ISO date and time. */
function day(iso: string): string {
  return `${new Date(iso).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}
