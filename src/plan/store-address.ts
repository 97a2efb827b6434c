// Whether a store is named by a folder or by the address of a database. Pure.

export function isStoreAddress(text: string): boolean {
  return /^postgres(ql)?:\/\//.test(text);
}
