// The address of a question. Pure and without schemas: the page asks by it, and the static form files its answers under it.

/**
 * @param path of the endpoint, e.g. `/api/runs/:run/page`
 * @returns path and query; members in alphabetical order and without empty ones, so that equal questions have equal addresses
 */
export function questionAddress(
  path: string,
  params: Readonly<Record<string, unknown>>,
  query: Readonly<Record<string, unknown>>,
): string {
  const filled = path.replace(/:(\w+)/g, (_, key: string) => encodeURIComponent(String(params[key])));
  const members = Object.entries(query)
    .filter(([, value]) => value !== undefined && value !== '')
    .map(([key, value]) => `${encodeURIComponent(key)}=${encodeURIComponent(String(value))}`)
    .sort();
  return members.length === 0 ? filled : `${filled}?${members.join('&')}`;
}
