// Style sheets of the document → the rules that hold, by what they declare, each with its rank among cascade layers and the way to it
// in the text of its sheet.
import type { WireRule, WireSheet, WireStep } from '../wire/written.ts';
import { dom } from '../dom.ts';
import { textPrint } from '../text-print.ts';
import { complexSelectors, nestedSelector } from './selector-parts.ts';

export interface Declaring {
  /** Its place among the rules of the page. */
  readonly id: string;
  /** With those of the rules around it in place of `&`. */
  readonly selector: string;
  /** One by one. */
  readonly selectors: () => readonly string[];
  readonly style: CSSStyleDeclaration;
  /** More than its selector says where it holds. */
  readonly isSure: boolean;
  readonly layer: Layer;
  readonly wire: Omit<WireRule, 'of' | 'rank' | 'values'>;
}

/** A cascade layer, or what is in none. */
export interface Layer {
  readonly name: string;
  readonly within: Map<string, Layer>;
}

export interface SheetRules {
  /** What is told of places holds where these are the same. */
  readonly key: string;
  readonly sheets: readonly WireSheet[];
  readonly byName: ReadonlyMap<string, readonly Declaring[]>;
  readonly wireOf: (declaring: Declaring) => Omit<WireRule, 'values'>;
  /** Nothing was added to the rules or taken from them. */
  hold(): boolean;
}

interface Around {
  /** Selector of the rule or scope it is nested in, else ''. */
  readonly parent: string;
  readonly isSure: boolean;
  /** Its conditions hold. */
  readonly isOn: boolean;
  readonly layer: Layer;
  readonly sheet: number;
  /** The outermost style rule it is in, and the way from there. */
  readonly outer: { readonly text: string; readonly nth: number } | null;
  readonly steps: readonly WireStep[];
}

/**
 * Of one document: what was read holds for the next theme, as long as the same sheets have as many rules, those as many declarations, and the
 * same conditions hold.
 */
export interface SheetReader {
  /**
   * @param ours style sheets that hold the page still: they set no colour
   * @returns null where a sheet may not be read
   */
  read(ours: ReadonlySet<CSSStyleSheet>): SheetRules | null;
}

export function openSheetReader(): SheetReader {
  let last: { readonly sheets: readonly CSSStyleSheet[]; readonly rules: SheetRules; readonly conditions: Conditions } | null =
    null;
  return {
    read: (ours) => {
      const all = [...dom(document).styleSheets, ...dom(document).adoptedStyleSheets].filter((sheet) => !ours.has(sheet));
      try {
        const key = keyOf(all);
        const isSame = last?.rules.key === key && last.sheets.every((sheet, at) => sheet === all[at]);
        if (last !== null && isSame && last.rules.hold() && last.conditions.hold()) return last.rules;
        const conditions = openConditions();
        const rules = readSheetRules(all, key, conditions);
        last = { sheets: all, rules, conditions };
        return rules;
      } catch (error) {
        if (error instanceof DOMException && error.name === 'SecurityError') return null;
        throw error;
      }
    },
  };
}

function keyOf(sheets: readonly CSSStyleSheet[]): string {
  const { pathname, search } = location;
  return [
    dom(document).compatMode,
    dom(document).contentType,
    // One that is written in the page is none of another page, nor of the same one where it says something else.
    ...sheets.map((sheet) => {
      const { href, cssRules, disabled } = sheet;
      return `${href ?? `${pathname}${search} ${printOf(sheet) ?? ''}`} ${cssRules.length}${disabled ? ' disabled' : ''}`;
    }),
  ].join('\n');
}

/** @throws DOMException where a sheet may not be read */
function readSheetRules(all: readonly CSSStyleSheet[], key: string, { isOn, isSupported }: Conditions): SheetRules {
  const byName = new Map<string, Declaring[]>();
  const sheets: WireSheet[] = [];
  const root: Layer = { name: '', within: new Map() };
  /** How often a selector is that of an outermost rule, by sheet. */
  const times: Map<string, number>[] = [];
  const lengths: (readonly [style: CSSStyleDeclaration, length: number])[] = [];
  let order = 0;

  for (const sheet of all) readSheet(sheet, root, !sheet.disabled && isOn(sheet.media));
  const ranks = ranksOf(root);
  return {
    key,
    sheets,
    byName,
    hold: () => lengths.every(([style, length]) => style.length === length),
    wireOf: ({ layer, wire }) => ({
      ...wire,
      of: times[wire.sheet]?.get(wire.outer) ?? 0,
      rank: ranks.get(layer) ?? 0,
    }),
  };

  function addSheet(sheet: CSSStyleSheet): number {
    times.push(new Map());
    return sheets.push({ href: sheet.href, print: printOf(sheet) }) - 1;
  }

  function readSheet(sheet: CSSStyleSheet, layer: Layer, isHolding: boolean): void {
    const at = addSheet(sheet);
    const around = { parent: '', isSure: true, isOn: isHolding, layer, sheet: at, outer: null, steps: [] };
    readRules(sheet.cssRules, String(at), around);
  }

  function readRules(rules: CSSRuleList, path: string, around: Around): void {
    const all = [...rules];
    // The way through the rules matters within an outermost one alone.
    const kinds = around.outer === null ? [] : all.map(kindOf);
    for (const [at, rule] of all.entries()) {
      const id = `${path}.${at}`;
      const inside = (more: Partial<Around> = {}): Around =>
        around.outer === null ? { ...around, ...more } : { ...around, steps: [...around.steps, stepTo(kinds, at)], ...more };
      if (rule instanceof CSSStyleRule) readStyleRule(rule, id, around, inside);
      else if (rule instanceof CSSMediaRule) readRules(rule.cssRules, id, inside({ isOn: around.isOn && isOn(rule.media) }));
      else if (rule instanceof CSSSupportsRule)
        readRules(rule.cssRules, id, inside({ isOn: around.isOn && isSupported(rule.conditionText) }));
      else if (rule instanceof CSSLayerStatementRule) {
        if (around.isOn) for (const name of rule.nameList) layerIn(around.layer, name);
      } else if (rule instanceof CSSLayerBlockRule) {
        // What does not hold brings no layer about (CSS Cascade 5 §6.4.3).
        const layer = around.isOn ? layerIn(around.layer, rule.name) : around.layer;
        readRules(rule.cssRules, id, inside({ layer }));
      } else if (rule instanceof CSSImportRule) readImport(rule, around);
      else if (rule instanceof CSSKeyframesRule) continue;
      else if (rule instanceof CSSScopeRule) {
        // Without a start it is the element around the style sheet.
        const parent = rule.start === null ? '*' : nestedSelector(rule.start, around.parent);
        readRules(rule.cssRules, id, inside({ parent, isSure: false }));
      } else if ('cssRules' in rule) readRules(rule.cssRules as CSSRuleList, id, inside({ isSure: false }));
      else if ('style' in rule && around.outer !== null) {
        const { nth, of } = stepTo(kinds, at);
        // Declarations of a style rule that come before what is nested in it are its own: the first piece.
        const own = (around.steps.at(-1)?.kind ?? 'rule') === 'rule' ? 1 : 0;
        const declared = { id, selector: around.parent, style: rule.style as CSSStyleDeclaration };
        note(declared, around, { piece: [nth + own, of + own], steps: around.steps });
      } else if ('style' in rule && around.parent !== '') {
        // Of a scope itself.
        const declared = { id, selector: around.parent, style: rule.style as CSSStyleDeclaration };
        note(declared, { ...around, isSure: false }, { piece: [0, 0], steps: [] });
      }
    }
  }

  function readStyleRule(rule: CSSStyleRule, id: string, around: Around, inside: (more?: Partial<Around>) => Around): void {
    const text = rule.selectorText;
    const selector = nestedSelector(text, around.parent);
    const outer = around.outer ?? { text, nth: countOf(around.sheet, text) };
    const within: Around = { ...inside(), parent: selector, outer };
    const pieces = [...rule.cssRules].filter((inner) => kindOf(inner) === 'piece').length;
    note({ id, selector, style: rule.style }, within, { piece: [0, pieces + 1], steps: within.steps });
    if (rule.cssRules.length > 0) readRules(rule.cssRules, id, within);
  }

  function readImport({ styleSheet, media, layerName, supportsText }: CSSImportRule, around: Around): void {
    if (styleSheet === null) return;
    const isHolding = around.isOn && isOn(media) && (supportsText === null || isSupported(supportsText));
    const layer = layerName === null || !isHolding ? around.layer : layerIn(around.layer, layerName);
    readSheet(styleSheet, layer, isHolding);
  }

  function countOf(sheet: number, text: string): number {
    const counts = times[sheet] ?? new Map<string, number>();
    const nth = counts.get(text) ?? 0;
    counts.set(text, nth + 1);
    return nth;
  }

  function note(
    { id, selector, style }: Pick<Declaring, 'id' | 'selector' | 'style'>,
    { isSure, isOn: holds, layer, sheet, outer }: Around,
    { piece, steps }: Pick<WireRule, 'piece' | 'steps'>,
  ): void {
    if (!holds) return;
    lengths.push([style, style.length]);
    order += 1;
    const { text: outermost, nth } = outer ?? { text: '', nth: 0 };
    const wire = { sheet, text: selector, layer: layer.name, order, outer: outermost, nth, steps, piece };
    let complex: readonly string[] | null = null;
    const selectors = (): readonly string[] => (complex ??= complexSelectors(selector));
    const declaring = { id, selector, selectors, style, isSure, layer, wire };
    for (const name of style) {
      const all = byName.get(name);
      if (all === undefined) byName.set(name, [declaring]);
      else all.push(declaring);
    }
  }
}

/** Of a sheet without an address. Rules that scripts put in stand in no text: the browser strings them together, those of a constructed sheet by lines. */
function printOf({ href, ownerNode, cssRules }: CSSStyleSheet): string | null {
  if (href !== null) return null;
  const text = ownerNode === null ? '' : dom(ownerNode).textContent;
  const rules = (): string => [...cssRules].map(({ cssText }) => cssText + (ownerNode === null ? '\n' : '')).join('');
  return textPrint(text.trim() === '' ? rules() : text);
}

/** As the text of the sheet has it: at-rules by name, `piece` for declarations that come after what is nested. */
function kindOf(rule: CSSRule): string {
  if (rule instanceof CSSStyleRule) return 'rule';
  if (rule instanceof CSSMediaRule) return 'media';
  if (rule instanceof CSSSupportsRule) return 'supports';
  if (rule instanceof CSSLayerBlockRule) return 'layer';
  return 'style' in rule && !('cssRules' in rule) ? 'piece' : '';
}

function stepTo(kinds: readonly string[], at: number): WireStep {
  const kind = kinds[at] ?? '';
  const isSame = (other: string): boolean => other === kind;
  return { kind, nth: kinds.slice(0, at).filter(isSame).length, of: kinds.filter(isSame).length };
}

/** @param name several, with dots, for layers in layers; '' is one of its own each time */
function layerIn(around: Layer, name: string): Layer {
  if (name === '') return addLayer(around, `\0${around.within.size}`, '');
  return name.split('.').reduce((layer, part) => layer.within.get(part) ?? addLayer(layer, part, part), around);
}

function addLayer(around: Layer, key: string, name: string): Layer {
  const layer = { name: around.name === '' ? name : `${around.name}.${name}`, within: new Map<string, Layer>() };
  around.within.set(key, layer);
  return layer;
}

/** Lowest first: what is in a layer but in none of its layers comes after those (CSS Cascade 5 §6.4.3). */
function ranksOf(root: Layer): ReadonlyMap<Layer, number> {
  const ranks = new Map<Layer, number>();
  const rank = (layer: Layer): void => {
    for (const inner of layer.within.values()) rank(inner);
    ranks.set(layer, ranks.size);
  };
  rank(root);
  return ranks;
}

/** Each is asked once. */
interface Conditions {
  readonly isOn: (media: MediaList) => boolean;
  /** @param text of a condition, or of one declaration */
  readonly isSupported: (text: string) => boolean;
  /** Those that were asked are what they were. */
  hold(): boolean;
}

function openConditions(): Conditions {
  const known = new Map<string, boolean>();
  const supported = new Map<string, boolean>();
  const ask = (mediaText: string): boolean => mediaText === '' || matchMedia(mediaText).matches;
  return {
    isOn: ({ mediaText }) => {
      const isOn = known.get(mediaText) ?? ask(mediaText);
      known.set(mediaText, isOn);
      return isOn;
    },
    isSupported: (text) => {
      const isSupported = supported.get(text) ?? (CSS.supports(text) || CSS.supports(`(${text})`));
      supported.set(text, isSupported);
      return isSupported;
    },
    hold: () => [...known].every(([mediaText, isOn]) => ask(mediaText) === isOn),
  };
}
