// The one error type that reaches people: what happened, where, and what to do about it.

/** Facts for machines; what each member means is said by the code's entry in docs/errors.md. */
export type ErrorData = Readonly<Record<string, unknown>>;

export interface ErrorFacts {
  /** Stable, kebab-case. */
  readonly code: string;
  /** Where, what was found, what was expected. */
  readonly message: string;
  /** What to do. */
  readonly hint: string;
  readonly data?: ErrorData;
  readonly cause?: unknown;
}

/** Made only by the functions of the catalogue (the other files of this folder). */
export class GloamError extends Error {
  readonly code: string;
  readonly hint: string;
  readonly data: ErrorData;

  constructor(facts: ErrorFacts) {
    super(facts.message, facts.cause === undefined ? {} : { cause: facts.cause });
    this.name = 'GloamError';
    this.code = facts.code;
    this.hint = facts.hint;
    this.data = facts.data ?? {};
  }

  /** The same error, each of its texts by way of `change`; what caused it is left out. */
  reworded(change: (text: string) => string): GloamError {
    return new GloamError({ code: this.code, message: change(this.message), hint: change(this.hint) });
  }
}
