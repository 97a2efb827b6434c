// Optional means absent: members that are undefined are left out (exactOptionalPropertyTypes).

type Defined<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

/** Without the members that are undefined: optional means absent. */
export function defined<T extends object>(value: T): Defined<T> {
  return Object.fromEntries(Object.entries(value).filter(([, member]) => member !== undefined)) as Defined<T>;
}
