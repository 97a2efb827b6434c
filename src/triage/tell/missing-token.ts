// What a missing token is for, as a sentence: what reads nowhere, what is meant, what is there now.
import { showRatio } from '../../colour/contrast-ratio.ts';
import type { Repair } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import { ownRule } from '../cases/own-rules.ts';
import type { Evidence, Ground } from '../propose/candidate.ts';
import { wordsMeant } from '../propose/named-for.ts';
import { pairsOf } from '../recolor/recolor.ts';
import { lowest } from '../recolor/recolored-sample.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { CaseFault } from '../world.ts';
import { counted, listed, nameOfRef, themeNames, WHAT } from './naming.ts';
import { readableName } from './readable-place.ts';
import { backName, shortfall } from './shortfall.ts';

interface MissingToken {
  readonly repair: Repair;
  readonly evidence: Evidence;
  readonly themes: readonly number[];
  readonly faults: readonly CaseFault[];
  readonly shown: Case;
  readonly pages: number;
  readonly place: string;
}

export function missingToken(ground: Ground, of: MissingToken): string {
  const { index } = ground.world;
  const where = listed(themeNames(index, unreadIn(of)));
  const { shown, repair, evidence } = of;
  if (index.table.tokens.length === 0) return untold(ground, of, where);
  const on = backName(index, shown);
  const now = nameOfRef(index, shown.fore);
  const reached = showRatio(lowest(pairsOf(shown)));
  if (evidence.unlike === true)
    return `No token like ${now}, which ${placeOf(of)} takes for its ${WHAT[shown.role]}, can be read on ${on} in ${where}: it reaches ${reached}; a new one needs a contrast of ${repair.to}`;
  const lead =
    evidence.hopeless === true
      ? `No token of the set can be read on ${on}`
      : `The set has no ${[...wordsMeant(index, shown), 'token'].join(' ')} for ${WHAT[shown.role === 'face' ? 'edge' : shown.role]} on ${on}${more(index, of)}`;
  return `${lead} in ${where}: ${now}${writtenIn(of)} reaches ${reached}${besides(index, of)}; a new one needs a contrast of ${repair.to}`;
}

/** Rules that write a colour out where others take the token that is told: the new one is for them as well. */
function besides(index: TableIndex, { faults, shown, place }: MissingToken): string {
  if (shown.fore.kind === 'literal') return '';
  const colors = new Map(
    faults.flatMap(({ case: one }) => {
      const rule = one.fore.kind === 'literal' ? ownRule(one.wrote) : undefined;
      return rule === undefined ? [] : [[rule, nameOfRef(index, one.fore)] as const];
    }),
  );
  const [[rule, color] = []] = colors;
  if (rule === undefined || color === undefined) return '';
  const others = colors.size === 1 ? '' : ` (${counted(colors.size - 1, 'other rule')} as well)`;
  return `, and ${readableName(rule, place)} writes out ${color}${others}`;
}

/** What merely stayed what it was can be read there. */
function unreadIn({ themes, faults }: MissingToken): readonly number[] {
  const unread = themes.filter((theme) => faults.some((fault) => fault.case.theme === theme && fault.check !== 'unthemed'));
  return unread.length === 0 ? themes : unread;
}

/** Of an app without tokens. */
function untold(ground: Ground, of: MissingToken, where: string): string {
  const { shown, pages, repair } = of;
  const on = pages > 1 ? ` (${counted(pages, 'page')})` : '';
  return `${placeOf(of)}${on} is drawn in ${nameOfRef(ground.world.index, shown.fore)}, ${shortfall(ground, shown)} in ${where}; no token is known, and a colour for it needs a contrast of ${repair.to}`;
}

function placeOf({ shown, place }: MissingToken): string {
  const rule = ownRule(shown.wrote);
  return rule === undefined ? place : readableName(rule, place);
}

/** A colour that no token names is found by the rules that write it. */
function writtenIn({ faults, shown, place }: MissingToken): string {
  const rule = ownRule(shown.wrote);
  if (shown.fore.kind !== 'literal' || rule === undefined) return '';
  const rules = new Set(faults.flatMap((fault) => ownRule(fault.case.wrote) ?? []));
  rules.delete(rule);
  return ` (${readableName(rule, place)}${rules.size === 0 ? '' : ` and ${counted(rules.size, 'other rule')}`})`;
}

/** Surfaces besides the one that is told. */
function more(index: TableIndex, { faults, shown }: MissingToken): string {
  const others = new Set(faults.map((fault) => backName(index, fault.case)));
  others.delete(backName(index, shown));
  return others.size === 0 ? '' : ` and ${counted(others.size, 'other surface')}`;
}
