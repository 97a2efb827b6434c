// Columns that hold JSON which this ledger wrote itself: the type travels with the text, so reading needs no second description.

declare const holds: unique symbol;

/** JSON text of a `T`. Only `toJson` makes one. */
export type Json<T> = string & { readonly [holds]: T };

export function toJson<T>(value: T): Json<T> {
  // The brand exists for the compiler alone; the text is made from a T in this very line.
  return JSON.stringify(value) as Json<T>;
}

/** What `toJson` wrote. The database's own checks vouch for the text. */
export function fromJson<T>(text: Json<T>): T {
  // eslint-disable-next-line @typescript-eslint/no-unsafe-assignment -- JSON.parse is untyped; the brand says what was written
  const value: T = JSON.parse(text);
  return value;
}
