// A finding's name: the same from night to night as long as the same check fails at the same place in the same view.
import type { FindingDraft } from '../samples/finding.ts';
import type { ViewRef } from '../samples/view.ts';

/** FNV-1a, 64 bits (RFC 9923 §2.2, §5): offset basis and prime. Not cryptographic; a run has some thousand findings. */
const BASIS = 0xcbf29ce484222325n;
const PRIME = 0x100000001b3n;

/** @returns 16 hexadecimal digits of the text's UTF-8 bytes */
export function fnv1a64(text: string): string {
  let hash = BASIS;
  for (const byte of utf8(text)) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * PRIME);
  return hash.toString(16).padStart(16, '0');
}

/** Bytes 0–255; the core has no TextEncoder, `encodeURIComponent` does the same (lone surrogates become U+FFFD first). */
function utf8(text: string): readonly number[] {
  const escaped = encodeURIComponent(text.replace(/\p{Surrogate}/gu, '\uFFFD'));
  return [...escaped.matchAll(/%([0-9A-F]{2})|([^%])/g)].map(([, code, letter]) =>
    code === undefined ? (letter ?? '').charCodeAt(0) : Number.parseInt(code, 16),
  );
}

export function findingId(view: ViewRef, draft: Pick<FindingDraft, 'check' | 'key'>): string {
  return fnv1a64(JSON.stringify([draft.check, view.page, view.theme, view.state, view.viewport, draft.key]));
}
