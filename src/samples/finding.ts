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

/** One fault at one element in one view. `id` stays the same from night to night. */
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

/** What is shown of a change; programs go by the members of its kind, nobody reads them out of these words. */
interface Swap {
  /** Step, token or selector that changes. */
  readonly of: string;
  /** Token paths without braces, colours, or the declaration of a style. */
  readonly from: string;
  readonly to: string;
}

/** What is drawn on a surface and changes with it. */
export interface DrawnOn {
  /** Text, icon, outline … */
  readonly what: string;
  /** The rule that sets its colour, where one does. */
  readonly rule?: string;
  /** The surface, as the page calls it. */
  readonly place: string;
}

/** What a token that is missing must be in one theme. */
export interface Ask {
  readonly theme: string;
  /** The hardest of the surfaces it lies on. */
  readonly on: string;
  readonly contrast: number;
  /** The nearest colour that would do; none where no colour does. */
  readonly suggestion?: string;
}

/** A property in the page's own style and what it is to be. */
export interface StyleSwap {
  readonly property: string;
  readonly from: string;
  readonly to: string;
}

/** A custom property that holds numbers of a colour, and what it is to say: `--l`, `34%`, `52%`. */
export interface ComponentSwap {
  readonly property: string;
  readonly from: string;
  readonly to: string;
}

/** One change of a repair. */
export type RepairPart =
  | (Swap & { readonly change: 'alias' | 'rebuild' })
  /** `components`: what to write so that a colour built from custom properties becomes `to`. */
  | (Swap & { readonly change: 'value'; readonly components?: readonly ComponentSwap[] })
  | (Swap & { readonly change: 'use'; readonly drawn?: DrawnOn })
  | (Swap & { readonly change: 'add'; readonly asks: readonly Ask[] })
  | (Swap & { readonly change: 'style'; readonly style: StyleSwap });

export type RepairChange = RepairPart['change'];

export interface RepairReach {
  /** What must change with it: a second definition, the inks of a surface. */
  readonly also?: readonly RepairPart[];
  /** Ids of the causes that must be mended first: without them it would mend less, or break more. */
  readonly after?: readonly string[];
  readonly themes: readonly string[];
  /** Findings mended and passing places broken, both counted on the stored samples. */
  readonly fixes: number;
  readonly breaks: number;
}

export type Repair = RepairPart & RepairReach;

/** The one fault behind many findings. */
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
  /** What the page calls it, where no repair names it. */
  readonly place?: string;
}
