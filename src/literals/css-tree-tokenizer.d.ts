// The tokenizer alone: the whole of css-tree reads tables of CSS from files as it loads.
declare module 'css-tree/tokenizer' {
  export { tokenTypes, tokenize } from 'css-tree';
}
