// What a check is: a pure function from the samples of one view (and of the reference theme) to findings, with a table of
// parameters from which options are validated and documentation is written.
import type { CheckId, FindingDraft, Level, Measures } from '../samples/finding.ts';
import type { Sample, SampleKind } from '../samples/sample.ts';
import type { Tone, ViewRef } from '../samples/view.ts';

/** A number that may be set in the configuration under `checks`. */
export interface NumberParameter {
  readonly default: number;
  /** Smallest and largest value that make sense, both allowed. */
  readonly min: number;
  readonly max: number;
  /** `px`, `px²`, `L*`, `share`, `degrees`, `chroma`, `ratio`, `number`, `M` (CAM16 colourfulness) or `J + M/2` (lightness and half of that). */
  readonly unit: string;
  /** What it decides, one sentence. */
  readonly about: string;
  /** Where the default comes from: a published section, or "ours" and how it was found. */
  readonly source: string;
}

/** A word out of a few. */
export interface ChoiceParameter {
  readonly default: string;
  readonly choices: readonly string[];
  readonly about: string;
  readonly source: string;
}

export type Parameter = NumberParameter | ChoiceParameter;
export type Parameters = Readonly<Record<string, Parameter>>;

/** A value for each parameter, by name. */
export type OptionsOf<P extends Parameters> = { readonly [N in keyof P]: P[N] extends NumberParameter ? number : string };
export type GivenOptions = Readonly<Record<string, number | string>>;

export type SampleOf<K extends SampleKind> = Extract<Sample, { readonly kind: K }>;

/** The reference theme's view of the same page, state and viewport. */
export interface Reference {
  readonly theme: string;
  readonly tone: Tone;
  readonly samples: readonly Sample[];
  /** The same place there; undefined when the element is not in that view. */
  find<K extends SampleKind>(kind: K, key: string): SampleOf<K> | undefined;
}

/** All that a check may know of one view. */
export interface Subject {
  readonly view: ViewRef;
  readonly tone: Tone;
  readonly samples: readonly Sample[];
  /** Null in the reference theme itself, and where its view could not be captured. */
  readonly reference: Reference | null;
}

/** What a person wants to know of a check before trusting it; for documentation, each in full sentences. */
export interface Guide {
  /** Why it matters to people who use the theme. */
  readonly why: string;
  /** What is measured, and how. */
  readonly computed: string;
  /** Publications; opinions of our own are called so. */
  readonly source: string;
  /** How such a fault is mended. */
  readonly mend: string;
}

export interface Check {
  readonly id: CheckId;
  /** A few words for headings. */
  readonly title: string;
  /** What it finds and what it leaves alone; for documentation. */
  readonly about: string;
  readonly guide: Guide;
  readonly parameters: Parameters;
  /** @param options validated by `optionFaults`; those not given get their defaults */
  run(subject: Subject, options?: GivenOptions): readonly FindingDraft[];
}

/** Ties the names of the parameters to the options that the function reads. */
export function defineCheck<P extends Parameters>(check: {
  readonly id: CheckId;
  readonly title: string;
  readonly about: string;
  readonly guide: Guide;
  readonly parameters: P;
  readonly find: (subject: Subject, options: OptionsOf<P>) => readonly FindingDraft[];
}): Check {
  const { id, title, about, guide, parameters, find } = check;
  const defaults = Object.fromEntries(Object.entries(parameters).map(([name, parameter]) => [name, parameter.default]));
  return {
    id,
    title,
    about,
    guide,
    parameters,
    // eslint-disable-next-line @typescript-eslint/consistent-type-assertions -- the names are those of the table, by construction
    run: (subject, options = {}) => find(subject, { ...defaults, ...options } as OptionsOf<P>),
  };
}

export function samplesOf<K extends SampleKind>(samples: readonly Sample[], kind: K): readonly SampleOf<K>[] {
  return samples.filter((sample): sample is SampleOf<K> => sample.kind === kind);
}

/** A finding about one sample. */
export function findingAt(
  sample: Sample,
  finding: {
    readonly check: CheckId;
    readonly level: Level;
    readonly message: string;
    readonly measured: Measures;
    readonly expected: Measures;
  },
): FindingDraft {
  return { ...finding, key: sample.key, selector: sample.selector, rect: sample.rect };
}
