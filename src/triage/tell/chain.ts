// From the pixel to the ramp: the declaration in the page, each token on the way, the literal at the end, with file and line.
import { toCssText } from '../../colour/format-color.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { ChainLink } from '../../samples/finding.ts';
import type { Paint, WrittenPlace } from '../../samples/paint.ts';
import type { Case } from '../cases/case.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { isSameColor, tokensOf } from '../cases/paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/**
 * @param focus token that the chain should lead through; picks between what is in front and what lies behind
 * @param written the declaration in the page and the hops from there, where they were looked up
 */
export function chainOf(
  index: TableIndex,
  one: Case,
  focus: number | null,
  written: readonly WrittenPlace[],
): readonly ChainLink[] {
  const slots = [one.fore, ...one.back.map((layer) => layer.ref).toReversed()];
  const leads = (ref: PaintRef): boolean =>
    focus === null || tokensOf(ref).some((token) => index.chainOf(one.theme, token).includes(focus));
  const at = slots.findIndex(leads);
  const ref = slots[at] ?? one.fore;
  if (at > 0) return [{ property: 'background-color', value: toCssText(ref.color) }, ...linksOf(index, one.theme, ref)];
  const [declaration, ...hops] = written.length > 0 ? written : firstWritten(one);
  const use = { property: paintOf(one)?.property ?? 'color', value: toCssText(one.fore.color), ...fileAndLine(declaration) };
  const links = linksOf(index, one.theme, ref);
  if (links.length === 0) return [use, ...hops.map(({ property, value, ...hop }) => ({ property, value, ...fileAndLine(hop) }))];
  // What the page's own properties stand for has no file of its own: the declaration that was looked up tells where.
  const placed = (link: ChainLink): ChainLink =>
    link.file === undefined ? { ...link, ...fileAndLine(hops.find((hop) => isWrittenBy(hop, link))) } : link;
  const parts = componentLinks(index, one.theme, ref, hops).filter(({ property }) =>
    links.every((link) => link.property !== property),
  );
  return [use, ...links.map(placed), ...parts];
}

/** Where a property was looked up in another theme, its value of this one stands elsewhere. */
function isWrittenBy({ property, value }: WrittenPlace, link: ChainLink): boolean {
  if (property !== link.property) return false;
  const written = findColor(value);
  if (written === null) return true;
  const shown = findColor(link.value);
  return shown !== null && isSameColor(written, shown);
}

/** The numbers that a colour is built from, where they stand. */
function componentLinks(index: TableIndex, theme: number, ref: PaintRef, hops: readonly WrittenPlace[]): readonly ChainLink[] {
  const end = tokensOf(ref)
    .flatMap((token) => index.chainOf(theme, token))
    .at(-1);
  const built = index.table.tokens[end ?? -1]?.built?.[theme];
  return [...(built?.numbers ?? [])].map(([property, value]) => ({
    property,
    value,
    ...fileAndLine(hops.find((hop) => hop.property === property)),
  }));
}

/** Of a surface that is at fault for what lies on it. */
export function chainOfSurface(
  index: TableIndex,
  theme: number,
  ref: PaintRef,
  [declaration]: readonly WrittenPlace[],
): readonly ChainLink[] {
  return [
    { property: 'background-color', value: toCssText(ref.color), ...fileAndLine(declaration) },
    ...linksOf(index, theme, ref),
  ];
}

/** The declaration of a filter, and the custom properties on its way. */
export function chainOfFilter(written: readonly WrittenPlace[]): readonly ChainLink[] {
  return written.map(({ property, value, ...place }) => ({ property, value, ...fileAndLine(place) }));
}

/** Of the finding that comes first. */
function firstWritten({ written }: Case): readonly WrittenPlace[] {
  return written.get(Math.min(...written.keys())) ?? [];
}

function fileAndLine(place: Pick<WrittenPlace, 'file' | 'line'> | undefined): Pick<ChainLink, 'file' | 'line'> {
  return {
    ...(place?.file === undefined ? {} : { file: place.file }),
    ...(place?.line === undefined ? {} : { line: place.line }),
  };
}

export function paintOf(one: Case): Paint | null {
  const { sample } = one.place;
  if (sample === null || sample.kind === 'picture') return null;
  return sample.kind === 'text' ? sample.ink : sample.paint;
}

function linksOf(index: TableIndex, theme: number, ref: PaintRef): readonly ChainLink[] {
  return tokensOf(ref)
    .slice(0, 1)
    .flatMap((token) => linksOfToken(index, theme, token));
}

/** Each token on the way to the literal, the literal's last. */
export function linksOfToken(index: TableIndex, theme: number, token: number): readonly ChainLink[] {
  return index.chainOf(theme, token).map((each) => linkOf(index, theme, each));
}

/** Bare numbers as they are written, else the colour. */
function valueOf(index: TableIndex, theme: number, token: number): string {
  const { properties: [property = ''] = [], isBare, built } = index.table.tokens[token] ?? {};
  const definition = index.definitionOf(theme, token);
  if (definition === null) return '';
  if (definition.kind === 'alias') return `{${definition.target}}`;
  return (isBare === true ? built?.[theme]?.numbers.get(property) : undefined) ?? toCssText(definition.color);
}

function linkOf(index: TableIndex, theme: number, token: number): ChainLink {
  const definition = index.definitionOf(theme, token);
  const { properties: [property] = [], isBare } = index.table.tokens[token] ?? {};
  return {
    ...(property === undefined ? {} : { property }),
    // A function that no property carries is no token that anybody could look up.
    ...(property === undefined && isBare === true ? { property: index.pathOf(token) } : { token: index.pathOf(token) }),
    value: valueOf(index, theme, token),
    ...(definition?.declared.file === undefined ? {} : { file: definition.declared.file }),
    ...(definition?.declared.line === undefined ? {} : { line: definition.declared.line }),
  };
}
