// The port to the work of runs that any number of machines share. A run is announced with its plan, its groups are handed out one by
// one, each to one worker at a time, and come back done, given back or failed. What is said of a plan, a group or what became of it is
// plain data of whoever uses the queue; no secret may be in it.

/** Some work of a run that one worker does at a time. */
export interface Group {
  /** The same for the same work: entered again, it is not there twice. */
  readonly name: string;
  readonly data: unknown;
  /** Of two the larger one is handed out first. Whole, from 0. */
  readonly weight: number;
  /** After this time its worker counts as hung, and another may take it. s */
  readonly withinS: number;
}

/** One that a worker has in hand. */
export interface TakenGroup {
  readonly run: string;
  readonly id: string;
  readonly data: unknown;
  /** From 1. */
  readonly tries: number;
}

/** What became of a group. */
export type EndedGroup =
  | { readonly id: string; readonly data: unknown; readonly kind: 'done'; readonly report: unknown }
  /** It failed as often as it may. */
  | { readonly id: string; readonly data: unknown; readonly kind: 'given-up'; readonly why: string; readonly tries: number };

export interface Standing {
  /** Not handed out, or waiting for another try. */
  readonly waiting: number;
  readonly underWay: number;
  /** Processes that ask for work of this project at this moment. */
  readonly workers: number;
  /** Ended since the last look; each may be told more than once. */
  readonly ended: readonly EndedGroup[];
  /** Workers that do not take this run's groups, with what they say. */
  readonly refusals: readonly { readonly worker: string; readonly why: string }[];
}

export interface AnnouncedRun {
  readonly run: string;
  readonly plan: unknown;
  /** It has groups left, handed out or not. */
  readonly isOpen: boolean;
}

/** One statement of SQL, in the transaction that stores what a group yielded. */
export type Statement = (text: string, values: readonly unknown[]) => Promise<{ readonly rows: readonly unknown[] }>;

/** Whoever leads a run, alone. Ends with its process, however that ends. */
export interface Lead {
  /** Somebody else has it, or may have. */
  readonly isLost: () => boolean;
  release(): Promise<void>;
}

export interface WorkQueue extends AsyncDisposable {
  // For who leads a run

  /** @returns null where another process leads it */
  lead(run: string): Promise<Lead | null>;
  /** Workers see the run from now on. Said again, it changes nothing. */
  announce(run: string, plan: unknown, groups: readonly Group[]): Promise<void>;
  /** @param sinceStart all that ended, not only since the last look */
  standing(run: string, how?: { readonly sinceStart: boolean }): Promise<Standing>;
  /** Groups that nobody has in hand are not handed out any more. */
  withdraw(run: string): Promise<void>;
  /** Nothing of it is left; what workers have in hand is no longer theirs. */
  retire(run: string): Promise<void>;

  // For workers

  /** Says that this process asks for work. */
  enlist(): Promise<void>;
  /** Of the run that has the fewest groups under way. @param except runs that are not asked @returns null where nothing waits */
  take(except: ReadonlySet<string>): Promise<TakenGroup | null>;
  /** It is done; to be called in the transaction that stores what it yielded. @returns false where it was given to another */
  settle(group: TakenGroup, report: unknown, statement: Statement): Promise<boolean>;
  /** Untouched: as if nobody had taken it. */
  giveBack(group: TakenGroup): Promise<void>;
  /** It is tried again after a while, as often as it may. */
  fail(group: TakenGroup, why: string): Promise<void>;
  /** This process does not take the run's groups. @param why null: it does after all */
  refuse(run: string, why: string | null): Promise<void>;

  // For everybody

  /** In the order of their announcement; until they are retired. */
  announced(): Promise<readonly AnnouncedRun[]>;

  /** To be called now and then: groups of workers that ended or hang are handed out again. */
  tend(): Promise<void>;
}
