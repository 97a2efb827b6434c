// Explanations → causes as the ledger and the exports have them.
import { fnv1a64 } from '../../checks/finding-id.ts';
import type { Cause, CauseLayer, ChainLink, Finding, Repair } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Ground, Part } from '../propose/candidate.ts';
import type { Case, Role } from '../cases/case.ts';
import { ownRules } from '../cases/own-rules.ts';
import { CANVAS } from '../cases/selectors.ts';
import { builtFrom } from './built-from.ts';
import { chainOf, chainOfFilter, chainOfSurface } from './chain.ts';
import type { Change } from '../recolor/change.ts';
import type { Explanation } from '../choose/choose.ts';
import { ascending } from '../counting.ts';
import { countsOf, evaluate } from '../choose/evaluate.ts';
import { explainWhy } from './explain-why.ts';
import { nameInUse, nameOfRef, themeNames } from './naming.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { placeName, readableName, readablePlace } from './readable-place.ts';
import { repairOf } from './repair.ts';
import type { VariantName } from './repair.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { RuledExplanation } from '../choose/split-by-rule.ts';
import type { CaseFault } from '../world.ts';

/** A cause with what it was found from. */
export interface ExplainedCause {
  readonly cause: Cause;
  /** Places in the list of findings, ascending. */
  readonly findings: readonly number[];
  /** Changes that would mend it; to try them out. */
  readonly changes: readonly Change[];
  /** The causes that its repair comes after (`repair.after`). */
  readonly after?: readonly ExplainedCause[];
}

export function causeOf(ground: Ground, findings: readonly Finding[], explanation: RuledExplanation): ExplainedCause {
  const { index } = ground.world;
  const { changes: parts, faults, evidence, layer, written } = explanation;
  const [first] = parts;
  // Of several changes the first is told, with a place of its own.
  const touched = new Set(first?.recoloring.touched);
  const own = faults.filter((fault) => touched.has(fault.case.id));
  const told = saidOf(first?.change, own.length === 0 ? faults : own);
  const shown = shownOf(told);
  const ids = ascending(faults.flatMap((fault) => fault.findings));
  const themes = ascending(faults.map((fault) => fault.case.theme));
  const pages = new Set(ids.map((at) => findings[at]?.page)).size;
  const counts = countsFor(explanation, ids);
  // What is named is where that is seen which is told of it.
  const seen = ascending(told.flatMap((fault) => (fault.case === shown ? fault.findings : [])));
  const sample = shown?.place.sample ?? null;
  const isShown = (id: number): boolean => findings[id]?.key === sample?.key && findings[id]?.view === shown?.place.view.id;
  const at = findings[seen.find(isShown) ?? seen[0] ?? ids[0] ?? -1];
  const text = sample?.kind === 'text' ? sample.text : '';
  const surface = surfaceOf(first, shown);
  const named = placeName(placesOf(explanation), surface ?? at?.selector);
  const place = readablePlace(named, at, text);
  const variants = variantsOf(index, explanation);
  const repair =
    shown === null ? null : repairOf(ground, { parts, upon: explanation.ground.world, shown, themes, ...counts, place, variants });
  const why =
    shown === null || repair === null
      ? ''
      : explainWhy(ground, {
          parts,
          repair,
          evidence,
          faults,
          told,
          shown,
          themes: told === own || own.length === 0 ? themes : ascending(told.map((fault) => fault.case.theme)),
          pages,
          place: readableName(place, surface ?? readablePlace(at?.selector ?? '', at, text)),
          variants,
          builtFrom: builtFrom(written),
          touched: counts.touched,
          broken: counts.broken,
        });
  const focus = focusOf(parts);
  const painted = shown === null ? [] : paintedChain(index, shown, { focus, written, change: first?.change });
  const chain = parts[0] === undefined || repair === null ? painted : chainOfChange(parts[0].change, repair, painted);
  // Where a style or a literal is wrong, a token named here would be one that happens to lie there.
  const ends = shown === null || repair?.change === 'style' || usesLiteral(parts) ? {} : endsOf(ground, shown, focus);
  return {
    cause: {
      // Counts and times that are read there change.
      id: idOf(layer, repair?.of === place ? { ...repair, of: readablePlace(named, at) } : repair, shown?.role ?? 'ink'),
      layer,
      ...ends,
      ...(chain[0]?.property === undefined ? {} : { property: chain[0].property }),
      chain,
      findings: ids.length,
      themes: themeNames(index, themes),
      pages,
      confidence: confidenceOf(explanation, counts),
      why,
      ...(repair === null ? {} : { repair }),
    },
    findings: ids,
    changes: parts.map((part) => part.change),
  };
}

/** Of a surface that is wrong itself its own faults are told, not those of what happens to lie on it. */
function saidOf(change: Change | undefined, faults: readonly CaseFault[]): readonly CaseFault[] {
  const ofSurface =
    change?.kind === 'use' && change.site.side === 'surface' ? faults.filter((each) => each.case.role === 'surface') : [];
  return ofSurface.length === 0 ? faults : ofSurface;
}

/** By what is to change: a cause keeps its name from night to night, whatever it is proposed to become. */
function idOf(layer: CauseLayer, repair: Repair | null, role: Role): string {
  // Of one name may be what text lacks and what an icon does.
  const asked = repair?.change === 'add' && role !== 'ink' ? [role] : [];
  const companions = repair?.also?.flatMap((part) => (part.change === 'use' ? [] : [part.of])) ?? [];
  return fnv1a64(JSON.stringify([layer, repair?.change, repair?.of, repair?.from, repair?.themes, ...companions, ...asked]));
}

/** From what is at fault: where a surface is, what happens to be drawn on it is no part of it. */
function paintedChain(
  index: TableIndex,
  shown: Case,
  by: { readonly focus: number | null; readonly written: RuledExplanation['written']; readonly change: Change | undefined },
): readonly ChainLink[] {
  const { focus, written, change } = by;
  return change?.kind === 'use' && change.site.side === 'surface' && shown.role !== 'surface'
    ? chainOfSurface(index, shown.theme, change.site.ref, written)
    : chainOf(index, shown, focus, written);
}

/** A colour that is written out is changed where it stands: at the end of the hops, unless several rules set it for one that paints. */
function placesOf({ written, variants, changes: [first] }: RuledExplanation): readonly WrittenPlace[] {
  const isLiteral = first?.change.kind === 'use' && first.change.site.ref.kind === 'literal';
  return isLiteral && !hasVariants(variants) ? ownRules(written) : written;
}

function hasVariants(variants: RuledExplanation['variants']): boolean {
  return new Set(variants.map(({ written }) => ownRules(written)[0]?.rule)).size > 1;
}

/** The element that paints the surface, where a surface changes for what lies on it. */
function surfaceOf(first: Part | undefined, shown: Case | null): string | undefined {
  if (first?.change.kind !== 'use' || first.change.site.side !== 'surface') return undefined;
  const sample = shown?.place.sample ?? null;
  if (shown?.role === 'surface' || sample === null || !('layers' in sample)) return undefined;
  return sample.layers.at(-1)?.selector ?? CANVAS;
}

/** Each colour of one rule with the rule that sets it and what should stand there; none where there is but one. */
function variantsOf(index: TableIndex, { variants }: RuledExplanation): readonly VariantName[] {
  if (!hasVariants(variants)) return [];
  return variants.flatMap(({ part: { change }, written }) => {
    if (change.kind !== 'use') return [];
    const rule = ownRules(written)[0]?.rule;
    return rule === undefined
      ? []
      : [{ change, of: rule, from: nameOfRef(index, change.site.ref), to: nameInUse(index, change.token) }];
  });
}

/** Of a style the declaration at fault comes first; what is painted there follows where it has a part in the fault. */
function chainOfChange(change: Change, repair: Repair, painted: readonly ChainLink[]): readonly ChainLink[] {
  const style = repair.change === 'style' ? [{ property: repair.style.property, value: repair.style.from }] : [];
  switch (change.kind) {
    case 'filter':
      return change.written.length > 0 ? chainOfFilter(change.written) : style;
    case 'indicator':
      return style;
    case 'outline':
    case 'opacity':
      return [...style, ...painted];
    case 'value':
    case 'alias':
    case 'use':
    case 'alpha':
    case 'add':
    case 'rebuild':
    case 'unglow':
      return painted;
  }
}

/** The fault seen most; of equals the first. */
export function shownOf(faults: readonly CaseFault[]): Case | null {
  return faults.toSorted((one, other) => other.findings.length - one.findings.length || one.id - other.id)[0]?.case ?? null;
}

interface Counts {
  readonly fixes: number;
  readonly breaks: number;
  /** Findings that it touches, mended or not, without those of others that it mends. */
  readonly touched: number;
  /** Where it breaks something, as the page calls the places. */
  readonly broken: readonly string[];
}

/** Of the cause's own findings: what the change mends of others is counted where they are told. */
function countsFor({ ground, changes, isPart, faults }: RuledExplanation, ids: readonly number[]): Counts {
  const [first] = changes;
  if (first === undefined || first.change.kind === 'add') return { fixes: ids.length, breaks: 0, touched: ids.length, broken: [] };
  const { world } = ground;
  const recoloring = changes.map((part) => part.recoloring).reduce(bothRecolorings);
  const outcome = evaluate(world, recoloring);
  const broken = [...new Set(outcome.broken.flatMap(({ case: one }) => one.place.sample?.selector ?? []))];
  const { fixes: all, breaks } = countsOf(outcome);
  const mended = new Set(outcome.mended.flatMap((fault) => fault.findings));
  const fixes = ids.filter((at) => mended.has(at)).length;
  if (isPart) return { fixes, breaks, broken, touched: ids.length };
  const touched = recoloring.touched
    .flatMap((id) => world.cases[id] ?? [])
    .flatMap((one) => world.faultsOf(one))
    .reduce((sum, fault) => sum + fault.findings.length, 0);
  // What only several changes mend together was given to one of them.
  const shared = faults.filter(
    (fault) => !outcome.mended.some((each) => each.case.id === fault.case.id && each.check === fault.check),
  );
  const alone = fixes + shared.reduce((sum, fault) => sum + fault.findings.length, 0);
  return { fixes, breaks, broken, touched: Math.max(touched - (all - fixes), alone) };
}

function focusOf(parts: readonly Part[]): number | null {
  const change = parts[0]?.change;
  if (change === undefined) return null;
  if (change.kind === 'use') return tokensOf(change.site.ref)[0] ?? null;
  return 'token' in change ? change.token : null;
}

function usesLiteral([first]: readonly Part[]): boolean {
  return first?.change.kind === 'use' && tokensOf(first.change.site.ref).length === 0;
}

/** Token that the page uses, and the step behind it. */
function endsOf(ground: Ground, one: Case, focus: number | null): { readonly token?: string; readonly step?: string } {
  const { index } = ground.world;
  const refs = [one.fore, ...one.back.map((layer) => layer.ref).toReversed()];
  const ref = refs.find((each) =>
    tokensOf(each).some((token) => focus === null || index.chainOf(one.theme, token).includes(focus)),
  );
  const token = ref === undefined ? undefined : tokensOf(ref)[0];
  if (token === undefined) return {};
  const root = index.rootOf(one.theme, token);
  const { isBare, properties } = index.table.tokens[token] ?? {};
  if (isBare === true && properties?.length === 0) return {};
  return { token: index.pathOf(token), ...(root < 0 || index.stepOf(root) === null ? {} : { step: index.pathOf(root) }) };
}

/** Clear when nothing else explains nearly as well and nothing breaks; two digits. */
function confidenceOf(
  { rival }: Explanation,
  counts: { readonly fixes: number; readonly breaks: number; readonly touched: number },
): number {
  const clear = 1 / (1 + rival);
  const share = counts.touched === 0 ? 1 : counts.fixes / counts.touched;
  const whole = clear * (0.8 + 0.2 * Math.min(1, share)) * (counts.breaks === 0 ? 1 : 0.5);
  return Number(Math.min(0.99, whole).toFixed(2));
}
