// What a check is: one pure function that judges a sample by its facts, one that says which of a view's faults are told together, one
// that words them; with a table of parameters from which options are validated and documentation is written. Everybody who wants to know
// whether something is wrong asks the same `judge`: a run of what was seen, triage of what would be seen.
import type { ContrastLevel } from '../colour/text-requirement.ts';
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

/** One view to be judged. */
export interface Subject {
  readonly view: ViewRef;
  readonly tone: Tone;
  readonly samples: readonly Sample[];
  /** Null in the reference theme itself, and where its view could not be captured. */
  readonly reference: Reference | null;
  /** Which contrast is asked of text; AA unless given. */
  readonly level?: ContrastLevel;
}

/** What one sample is held against. */
export interface Against {
  /** Of the sample itself. */
  readonly theme: string;
  readonly tone: Tone;
  /** Null in the reference theme itself, and where its view could not be captured. */
  readonly reference: Counterpart | null;
  /** Which contrast is asked of text. */
  readonly level: ContrastLevel;
  /** What another check says of a sample need not be said again; unless set, none says anything. */
  readonly others?: Others;
}

/** The check of that name where it is on, and no exemption covers what it says of the sample that does not cover this check as well. */
export type Others = (check: CheckId, sample: Sample) => Judge | undefined;

export interface Counterpart {
  readonly theme: string;
  readonly tone: Tone;
  /** The same place in the reference theme; undefined when the element is not in that view. */
  samePlace<K extends SampleKind>(kind: K): SampleOf<K> | undefined;
}

/** What is wrong at one place. Checks add what they found out and want to say. */
export interface Fault<S extends Sample = Sample> {
  readonly sample: S;
  readonly level: Level;
  /** It counts only together with others, which `fold` decides: alone it is no fault. */
  readonly part?: true;
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

interface About {
  readonly id: CheckId;
  /** A few words for headings. */
  readonly title: string;
  /** What it finds and what it leaves alone; for documentation. */
  readonly about: string;
  readonly guide: Guide;
  /** Samples that it judges. */
  readonly kinds: readonly SampleKind[];
}

/** A check as its file writes it. `K`: kinds of its samples, `F`: its faults, `R`: what it wants to know of the whole view. */
export interface CheckDefinition<P extends Parameters, K extends SampleKind, F extends Fault<SampleOf<K>>, R> extends About {
  readonly kinds: readonly K[];
  readonly parameters: P;
  /** What is to be known of the view and of its reference before a single place is judged. */
  readonly survey?: (seen: Pick<Subject, 'samples' | 'reference'>, options: OptionsOf<P>) => R;
  /** @param rest null where nothing but this place is known */
  readonly judge: (sample: SampleOf<K>, against: Against, options: OptionsOf<P>, rest: R | null) => F | null;
  /** Of the faults of one view those that are said, each for all that it stands for; all of them unless given. */
  readonly fold?: (faults: readonly F[], options: OptionsOf<P>) => readonly F[];
  readonly say: (fault: F, options: OptionsOf<P>) => Said;
  /** What of a sample decides besides its colours, in short: samples of one standing are judged alike when they look alike. */
  readonly standing?: (sample: SampleOf<K>, options: OptionsOf<P>) => string;
}

export interface Said {
  /** One sentence a designer understands. */
  readonly message: string;
  readonly measured: Measures;
  readonly expected: Measures;
}

/** A check with its options. */
export interface Judge {
  readonly id: CheckId;
  readonly kinds: readonly SampleKind[];
  /** Null where nothing is wrong, and for samples of other kinds. */
  judge(sample: Sample, against: Against): Fault | null;
  standing(sample: Sample): string;
  /**
   * @param apart samples that differ in it are never told together, so that an exempt place does not stand for others
   */
  run(subject: Subject, apart?: (sample: Sample) => unknown, others?: Others): readonly FindingDraft[];
}

export interface Check extends About {
  readonly parameters: Parameters;
  /** @param options validated by `optionFaults`; those not given get their defaults */
  with(options?: GivenOptions): Judge;
}

/** Ties the names of the parameters to the options that the functions read, and the kinds to the samples they get. */
export function defineCheck<P extends Parameters, K extends SampleKind, F extends Fault<SampleOf<K>>, R = null>(
  definition: CheckDefinition<P, K, F, R>,
): Check {
  const { id, title, about, guide, kinds, parameters } = definition;
  const defaults = Object.fromEntries(Object.entries(parameters).map(([name, parameter]) => [name, parameter.default]));
  return {
    ...{ id, title, about, guide, kinds, parameters },
    // eslint-disable-next-line @typescript-eslint/consistent-type-assertions -- the names are those of the table, by construction
    with: (options = {}) => judgeOf(definition, { ...defaults, ...options } as OptionsOf<P>),
  };
}

function judgeOf<P extends Parameters, K extends SampleKind, F extends Fault<SampleOf<K>>, R>(
  { id, kinds, survey, judge, fold, say, standing }: CheckDefinition<P, K, F, R>,
  options: OptionsOf<P>,
): Judge {
  const isOwn = (sample: Sample): sample is SampleOf<K> => kinds.some((kind) => kind === sample.kind);
  return {
    id,
    kinds,
    judge: (sample, against) => (isOwn(sample) ? judge(sample, against, options, null) : null),
    standing: (sample) => (isOwn(sample) ? (standing?.(sample, options) ?? '') : ''),
    run: (subject, apart = () => null, others = () => undefined) => {
      const { view, tone, samples, reference, level = 'AA' } = subject;
      const rest = survey?.(subject, options) ?? null;
      const groups = new Map<unknown, F[]>();
      for (const sample of samples) {
        if (!isOwn(sample)) continue;
        const there = reference === null ? null : counterpartOf(reference, sample.key);
        const fault = judge(sample, { theme: view.theme, tone, reference: there, level, others }, options, rest);
        if (fault === null) continue;
        const mark = apart(sample);
        const group = groups.get(mark);
        if (group === undefined) groups.set(mark, [fault]);
        else group.push(fault);
      }
      return [...groups.values()]
        .flatMap((faults) => fold?.(faults, options) ?? faults)
        .map((fault) => ({ check: id, level: fault.level, ...whereOf(fault.sample), ...say(fault, options) }));
    },
  };
}

function counterpartOf(reference: Reference, key: string): Counterpart {
  const { theme, tone } = reference;
  return { theme, tone, samePlace: (kind) => reference.find(kind, key) };
}

function whereOf({ key, selector, rect }: Sample): Pick<FindingDraft, 'key' | 'selector' | 'rect'> {
  return { key, selector, rect };
}

export function samplesOf<K extends SampleKind>(samples: readonly Sample[], kind: K): readonly SampleOf<K>[] {
  return samples.filter((sample): sample is SampleOf<K> => sample.kind === kind);
}
