// Resolved values in the short notation of the case tables: `srgb [0.8, 0.6, 0.4] / 0.5 hex #cc9966 (color)`.
import type { GraphValue } from '../../src/tokens/graph.ts';

export function typedText({ type, value }: GraphValue): string {
  return `${valueText(value)} (${type})`;
}

function valueText(value: unknown): string {
  if (typeof value === 'number') return String(Number(value.toFixed(3)));
  if (Array.isArray(value)) return `[${value.map(valueText).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return String(value);
  if ('colorSpace' in value && 'components' in value && 'alpha' in value && 'hex' in value) {
    const alpha = value.alpha === 1 ? '' : ` / ${valueText(value.alpha)}`;
    const hex = typeof value.hex === 'string' ? ` hex ${value.hex}` : '';
    return `${String(value.colorSpace)} ${valueText(value.components)}${alpha}${hex}`;
  }
  if ('unit' in value && 'value' in value) return `${valueText(value.value)}${String(value.unit)}`;
  return `{${Object.entries(value)
    .map(([name, member]) => `${name}: ${valueText(member)}`)
    .join(', ')}}`;
}
