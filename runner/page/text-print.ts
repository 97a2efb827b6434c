// A short print of a text, to tell it from others of the same page. In the page and in Node.

/** Length and a 32-bit hash (FNV-1a, http://www.isthe.com/chongo/tech/comp/fnv/, over UTF-16 code units). */
export function textPrint(text: string): string {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  return `${String(text.length)} ${String(hash >>> 0)}`;
}
