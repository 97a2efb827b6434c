// The parser of selectors alone: the whole of css-tree reads tables of CSS from files as it loads.
declare module 'css-tree/selector-parser' {
  export interface Part {
    readonly type: string;
    /** Of attributes a part of its own. */
    readonly name?: string | Part;
    readonly children?: Iterable<Part> | null;
    /** Of attributes and texts. */
    readonly value?: string | Part | null;
    readonly matcher?: string | null;
    readonly flags?: string | null;
    /** Of `:nth-child` and the like. */
    readonly nth?: Part;
    readonly selector?: Part | null;
    readonly a?: string | null;
    readonly b?: string | null;
  }
  /** @throws SyntaxError */
  // eslint-disable-next-line no-restricted-syntax -- css-tree exports it so
  export default function parse(text: string, options: { readonly context: 'selectorList' }): Part;
}
