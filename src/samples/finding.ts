// What checks say about samples, and what triage says about findings.
import type { Rect } from './view.ts';

/** Name of a check: kebab-case. Which there are is said in one place, the table of checks (`src/checks/table.ts`). */
export type CheckId = string;

/** From most to least severe. */
export const LEVELS = ['error', 'warning', 'note'] as const;
export type Level = (typeof LEVELS)[number];

/** Named numbers and colours; what they are is said by their names (`contrast`, `lightnessGain`, `ink` …). */
export type Measures = Readonly<Record<string, number | string>>;

/** What a check returns: the fault, without its history. */
export interface FindingDraft {
  readonly check: CheckId;
  readonly level: Level;
  /** Key of the sample it is about. */
  readonly key: string;
  readonly selector: string;
  readonly rect: Rect;
  /** One sentence a designer understands. */
  readonly message: string;
  readonly measured: Measures;
  readonly expected: Measures;
}

export type FindingStatus = 'new' | 'known' | 'exempt';

/** One fault at one element in one view (contract §3). `id` stays the same from night to night. */
export interface Finding extends FindingDraft {
  readonly id: string;
  readonly view: string;
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  readonly viewport: string;
  /** Run in which it was first seen. */
  readonly since: string;
  readonly status: FindingStatus;
  readonly owner?: string;
  /** Why it is exempt, in the exemption's own words. */
  readonly exemption?: string;
  readonly cause: string | null;
}

export const CAUSE_LAYERS = ['ramp', 'token', 'usage', 'gap', 'build', 'content', 'unknown'] as const;
export type CauseLayer = (typeof CAUSE_LAYERS)[number];

/** One hop from the pixel to the ramp. */
export interface ChainLink {
  readonly property?: string;
  readonly token?: string;
  readonly value: string;
  readonly file?: string;
  readonly line?: number;
}

/** A part of a repair that uses another token; `of` says where, `from` and `to` as in the repair. */
export interface RepairPart {
  readonly of: string;
  readonly from: string;
  readonly to: string;
}

export interface Repair {
  readonly change: 'value' | 'alias' | 'use' | 'add' | 'rebuild' | 'style';
  /** Step, token or selector that changes. */
  readonly of: string;
  /** Token paths without braces, or colours. */
  readonly from: string;
  readonly to: string;
  /** What must change with it: inks of a surface, each in the place it is drawn in. */
  readonly also?: readonly RepairPart[];
  /** Ids of the causes that must be mended first: without them it would mend less, or break more. */
  readonly after?: readonly string[];
  readonly themes: readonly string[];
  /** Findings mended and passing places broken, both counted on the stored samples. */
  readonly fixes: number;
  readonly breaks: number;
}

/** The one fault behind many findings (contract §3). */
export interface Cause {
  readonly id: string;
  readonly layer: CauseLayer;
  readonly token?: string;
  readonly step?: string;
  readonly property?: string;
  readonly chain: readonly ChainLink[];
  readonly findings: number;
  readonly themes: readonly string[];
  readonly pages: number;
  /** 0–1. */
  readonly confidence: number;
  readonly why: string;
  readonly repair?: Repair;
}
