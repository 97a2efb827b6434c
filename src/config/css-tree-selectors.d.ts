// The parser of selectors alone: the whole of css-tree reads tables of CSS from files as it loads.
declare module 'css-tree/selector-parser' {
  interface Part {
    readonly type: string;
    readonly children?: Iterable<Part> | null;
  }
  /** @throws SyntaxError */
  // eslint-disable-next-line no-restricted-syntax -- css-tree exports it so
  export default function parse(text: string, options: { readonly context: 'selectorList' }): Part;
}
