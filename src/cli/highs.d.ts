// The part of the solver's interface that is used. Its own types describe its CommonJS build, and an ES module imports the other one.
declare module 'highs' {
  interface Model {
    readonly options: { set(values: Readonly<Record<string, string | number | boolean>>): unknown };
    readonly info: { get(name: string): number | bigint };
    run(): { readonly modelStatus: number };
    getSolution(): { readonly colValue: Float64Array };
    getColName(column: number): string;
  }
  // eslint-disable-next-line no-restricted-syntax -- that is how the package exports it
  export default function load(): Promise<{
    withModel<Result>(source: { readonly format: 'lp'; readonly data: string }, operation: (model: Model) => Result): Result;
  }>;
}
