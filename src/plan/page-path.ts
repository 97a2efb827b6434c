// The spellings of one page's path: `/quay`, `/quay/`, `/quay.html` and `/quay/index.html` are one page to a web server.

/** @returns the plainest spelling, letters decoded (RFC 3986 §6.2.2) */
export function pagePath(pathname: string): string {
  const plain = pathname
    .replace(/\/index\.html?$/iu, '/')
    .replace(/\.html?$/iu, '')
    .replace(/(.)\/+$/u, '$1');
  try {
    return decodeURIComponent(plain);
  } catch {
    return plain;
  }
}
