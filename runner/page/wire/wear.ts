// What travels when style sheets of ours are put on a page to stay. Types only; both sides import them.

export interface WearCalls {
  readonly wear: {
    readonly args: {
      /** For the page, its frames and all open shadow trees; may be empty. */
      readonly everywhere: string;
      /** `within`: path to the shadow host or frame, joined by ` >>> `; empty for the page itself. */
      readonly rules: readonly { readonly within: string; readonly css: string }[];
    };
    readonly result: { readonly missing: readonly string[] };
  };
}
