// What a call of the command line has around it: main.ts takes it from the process, so that no command touches that.
import type { Browser } from 'playwright';

export interface Surroundings {
  /** Where it was called. */
  readonly folder: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly out: Outlet;
  readonly err: Outlet;
  /** Aborted by Ctrl-C or SIGTERM. */
  readonly signal: AbortSignal;
  /** What to start to call it once more. */
  readonly command: readonly string[];
  /** A browser that is open already, for runs, and stays so; asked for when it is needed. */
  readonly browser?: () => Promise<Browser>;
}

/** A stream of text; a terminal says how wide it is. */
export interface Outlet {
  write(text: string): unknown;
  readonly isTTY?: boolean;
  readonly columns?: number;
}
