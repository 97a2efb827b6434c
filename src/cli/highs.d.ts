// The part of the solver's interface that is used. Its own types describe its CommonJS build, and an ES module imports the other one.
declare module 'highs' {
  interface Solution {
    readonly Status: string;
    readonly Columns: Readonly<Record<string, object>>;
  }
  // eslint-disable-next-line no-restricted-syntax -- that is how the package exports it
  export default function load(): Promise<{
    solve(problem: string, options: Readonly<Record<string, string | number | boolean>>): Solution;
  }>;
}
