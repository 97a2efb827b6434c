// Exit codes that scripts rely on.
export const EXIT = {
  done: 0,
  /** `gate` says no; `run --fail-on` found something. */
  no: 1,
  /** Wrong use or wrong configuration; nothing was run. */
  wrongUse: 2,
  /** Some views could not be captured; the rest is stored. */
  incomplete: 3,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
