// A cause → lines to show: the sentence, the chain from the pixel to the ramp with a colour for each hop, what would mend it.
import { findColor } from '../../colour/parse-color.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { Cause, ChainLink, ComponentSwap, Repair, RepairPart } from '../../samples/finding.ts';
import { listed } from './naming.ts';

export interface ExplainLine {
  readonly kind: 'why' | 'hop' | 'repair' | 'counts';
  readonly text: string;
  /** CSS colour for a swatch beside it. */
  readonly color?: string;
  /** `file:line`. */
  readonly place?: string;
}

export function explainLines(cause: Cause): readonly ExplainLine[] {
  const { chain, repair, why } = cause;
  return [
    { kind: 'why', text: why },
    ...chain.map((link, at) => hopLine(chain, link, at)),
    ...(repair === undefined
      ? []
      : [repairLine(repair), ...(repair.also ?? []).map(partLine), ...(repair.after ?? []).map(afterLine)]),
    { kind: 'counts', text: countsText(cause) },
  ];
}

function hopLine(chain: readonly ChainLink[], link: ChainLink, at: number): ExplainLine {
  const name = [link.token, link.property].filter((each) => each !== undefined).join(' ');
  const color = colorFrom(chain, at);
  return {
    kind: 'hop',
    text: `${at === 0 ? '' : '→ '}${name}: ${link.value}`,
    ...(color === null ? {} : { color }),
    ...(link.file === undefined ? {} : { place: link.line === undefined ? link.file : `${link.file}:${link.line}` }),
  };
}

/** Its own colour, else that of the literal at the end of the chain. */
function colorFrom(chain: readonly ChainLink[], at: number): string | null {
  for (const { value } of chain.slice(at)) {
    const color = findColor(value);
    if (color !== null) return toCssText(color);
  }
  return null;
}

function repairLine(repair: Repair): ExplainLine {
  const where = repair.themes.length === 0 ? '' : ` (${repair.themes.join(', ')})`;
  const after = findColor(repair.to);
  return { kind: 'repair', text: partText(repair, where), ...(after === null ? {} : { color: toCssText(after) }) };
}

function partText(part: RepairPart, where: string): string {
  const { of, from, to } = part;
  switch (part.change) {
    case 'value':
      if (part.components !== undefined)
        return `${componentsText(part.components)}${where}, which makes ${of} ${to} instead of ${from}`;
      return `give ${of} the value ${to} instead of ${from}${where}`;
    case 'alias':
      return `point ${of} at ${to} instead of ${from}${where}`;
    case 'use':
      return `let ${of} use ${to} instead of ${from}${where}`;
    case 'add':
      return `add a token for what lies on ${of}: ${to}`;
    case 'rebuild':
      return `build the page anew: ${of} is served as ${from}, the files say ${to}${where}`;
    case 'style':
      return `in ${of}, write ${to} instead of ${from}${where}`;
  }
}

/** "give --h the value 210 instead of 205 and --l 52% instead of 34%" */
function componentsText(components: readonly ComponentSwap[]): string {
  const said = components.map(
    ({ property, from, to }, at) => `${property} ${at === 0 ? 'the value ' : ''}${to} instead of ${from}`,
  );
  return `give ${listed(said)}`;
}

function partLine(part: RepairPart): ExplainLine {
  return { kind: 'repair', text: `and ${partText(part, '')}` };
}

function afterLine(id: string): ExplainLine {
  return { kind: 'repair', text: `this comes after the repair of cause ${id}: without it, it would mend less or break more` };
}

function countsText({ findings, pages, themes, confidence, repair, layer }: Cause): string {
  const counts = [
    `${findings} ${findings === 1 ? 'finding' : 'findings'}`,
    `${pages} ${pages === 1 ? 'page' : 'pages'}`,
    themes.join(', '),
  ];
  const mends = repair === undefined ? [] : [`mends ${repair.fixes}, breaks ${repair.breaks}`];
  return [`layer: ${layer}`, ...counts, ...mends, `confidence ${confidence.toFixed(2)}`].join(' · ');
}
