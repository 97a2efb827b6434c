// What makes two samples the same case: the keys of families (in all themes) and of what a theme adds to them.
import type { Color } from '../../colour/color.ts';
import type { CaseLayer } from './case.ts';
import type { PaintRef } from './paint-ref.ts';
import { refKey } from './paint-ref.ts';
import type { Reading } from './read-sample.ts';

/** What is asked of a sample, in short. */
export function toldKey({ facts, required, judged, exempt, role, opacity }: Reading): string {
  const { kind, standing, edged, stay } = facts;
  return `${role}${kind}${judged ? required : '-'}${standing}${edged ? 'e' : ''}${stay ?? ''}${exempt}${opacity === 1 ? '' : `@${opacity}`}`;
}

/** Equal in all themes for what is painted by the same tokens and literals and asked the same. */
export function familyKey(reading: Reading, fore: PaintRef, back: readonly CaseLayer[] | null): string {
  return `${toldKey(reading)} ${refKey(fore)} ${back === null ? '?' : back.map(layerKey).join('/')}`;
}

/** What the family leaves out: colours that neither a token nor the literal itself names. */
export function foreAndBackKey(fore: PaintRef, back: readonly CaseLayer[] | null): string {
  return `${colorKey(fore)}${(back ?? []).map((layer) => colorKey(layer.ref) + tintKey(layer)).join('')}`;
}

function layerKey(layer: CaseLayer): string {
  return `${refKey(layer.ref)}@${layer.opacity}${layer.blend === 'normal' ? '' : layer.blend}`;
}

function tintKey({ tint }: CaseLayer): string {
  return tint === undefined ? '' : ` +${codesOf(tint)}`;
}

function colorKey(ref: PaintRef): string {
  if (ref.kind === 'token' || (ref.kind === 'literal' && ref.local === undefined)) return '';
  return ` ${codesOf(ref.color)}${ref.kind === 'stale' ? 's' : ''}`;
}

function codesOf({ r, g, b, alpha }: Color): string {
  return [r, g, b, alpha].map((v) => Math.round(v * 255)).join(',');
}
