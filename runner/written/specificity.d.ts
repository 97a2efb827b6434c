// The package has types, but does not say where for imports.
declare module '@bramus/specificity' {
  // eslint-disable-next-line no-restricted-syntax -- the package exports it so
  export default class Specificity {
    /** One for each of a list. @throws TypeError for what is no selector */
    static calculate(selectors: string): Specificity[];
    toArray(): [number, number, number];
  }
}
