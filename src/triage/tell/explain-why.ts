// One sentence a designer understands and would pass on: what is wrong, where it lies, what mends it.
import { PAGE_ROOTS } from '../cases/collect-cases.ts';
import { inSrgbGamut } from '../../colour/color.ts';
import { showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText, toReadableText } from '../../colour/format-color.ts';
import { toOklch } from '../../colour/lightness.ts';
import type { VariantName } from './repair.ts';
import type { Repair } from '../../samples/finding.ts';
import type { Evidence, Ground, Part } from '../propose/candidate.ts';
import type { Case } from '../cases/case.ts';
import type { InkUse } from '../recolor/change.ts';
import { lowest } from '../recolor/recolored-sample.ts';
import { counted, isFunction, listed, listedBriefly, nameInUse, nameOfRef, themeNames, WHAT } from './naming.ts';
import { paintable } from '../propose/nearby-colors.ts';
import { pairsOf } from '../recolor/recolor.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { missingToken } from './missing-token.ts';
import { isOneChange } from './one-change.ts';
import { shortfall } from './shortfall.ts';
import type { CaseFault } from '../world.ts';

export interface WhyOf {
  readonly parts: readonly Part[];
  readonly repair: Repair;
  readonly evidence: Evidence;
  readonly faults: readonly CaseFault[];
  /** Those that the first part touches. */
  readonly told: readonly CaseFault[];
  readonly shown: Case;
  readonly themes: readonly number[];
  readonly pages: number;
  readonly place: string;
  /** Colours that rules set for the place, where there are several. */
  readonly variants: readonly VariantName[];
  /** Custom properties that its colour is built from, where it is no property's own. */
  readonly builtFrom: readonly string[];
  /** Findings that the change touches, mended or not. */
  readonly touched: number;
  /** Where it breaks something. */
  readonly broken: readonly string[];
}

export function explainWhy(ground: Ground, of: WhyOf): string {
  const [first, second] = of.parts;
  if (first === undefined) return '';
  return `${sentence(ground, first, of)}${second === undefined ? '' : companion(ground, second)}${effect(ground, of)}.`;
}

function sentence(ground: Ground, part: Part, of: WhyOf): string {
  const { change } = part;
  const { index } = ground.world;
  const where = listed(themeNames(index, of.themes));
  const { repair } = of;
  switch (change.kind) {
    case 'value':
      return valueSentence(ground, change, of);
    case 'alias':
      return aliasSentence(ground, change, of);
    case 'use':
      return useSentence(ground, change, of);
    case 'indicator':
      return `${of.place} shows nothing when it is focused by keyboard in ${where}; others draw an outline in ${index.pathOf(change.token)}`;
    case 'outline':
      return `${of.place}${onPages(of)} has no outline${whatIsWrong(ground, of)}; others draw one in ${index.pathOf(change.token)}`;
    case 'opacity':
      return `${part.layer === 'usage' ? of.place : ''} is drawn with ${repair.from} in ${where}, which leaves ${WHAT[of.shown.role]} ${showRatio(lowest(pairsOf(of.shown)))} of the ${of.shown.required} it needs`;
    case 'alpha':
      return alphaSentence(ground, change, of, where);
    case 'unglow':
      return `${of.place} writes out a shadow (${repair.from}) that is lighter than what it falls on in ${where}`;
    case 'filter':
      return PAGE_ROOTS.includes(change.selector)
        ? `${repair.from} on ${repair.of} turns the whole page over in ${where}, with its pictures, its shadows and what should keep its tone`
        : `${repair.from} on ${repair.of} inverts what it shows in ${where}`;
    case 'add':
      return missingToken(ground, of);
    case 'rebuild':
      return `The page serves ${repair.of} as ${repair.from} in ${where}, but the token files say ${repair.to}`;
  }
}

function alphaSentence(ground: Ground, { site }: Part['change'] & { kind: 'alpha' }, of: WhyOf, where: string): string {
  const { shown, place, pages } = of;
  const on = pages > 1 ? ` (${counted(pages, 'page')})` : '';
  const left = site.ref.kind === 'token' ? shareOf(site.ref.alpha) : 'a part';
  const reached = `${showRatio(lowest(pairsOf(shown)))} of the ${shown.required} it needs`;
  return `${place}${on} draws its ${WHAT[shown.role]} with ${left} of ${nameOfRef(ground.world.index, site.ref)} in ${where}, which leaves ${reached}`;
}

function shareOf(alpha: number): string {
  return `${Number((alpha * 100).toFixed(1))} %`;
}

function valueSentence(ground: Ground, change: Part['change'] & { kind: 'value' }, of: WhyOf): string {
  const { index } = ground.world;
  const { repair, evidence } = of;
  const now = index.colorOf(change.themes[0] ?? -1, change.token);
  const glares = of.faults.every(({ check }) => check === 'neon');
  const how = glares ? 'colourful' : now === null ? 'off' : comparison(now, change.color);
  const beyond = now !== null && !inSrgbGamut(now);
  const lead = `${repair.of} (${beyond ? toReadableText(now) : repair.from}${builtFromText(change, index)}) is too ${how} in ${listed(repair.themes)}`;
  if (evidence.course === 'odd') {
    const course = courseOf(ground, change);
    return `${lead}: its neighbours on the ramp put it ${course === repair.to ? 'at' : 'near'} ${course ?? repair.to}`;
  }
  const users = [...new Set(of.faults.flatMap((fault) => usersOf(ground, fault.case, change.token)))];
  return users.length === 0 ? lead : `${lead} for ${listedBriefly(users, 3)}`;
}

/** Of a colour for which no numbers were found that do: what it is built from. */
function builtFromText({ token, themes, components }: Part['change'] & { kind: 'value' }, { table }: TableIndex): string {
  const built = components === undefined ? table.tokens[token]?.built?.[themes[0] ?? -1] : null;
  return built === null || built === undefined ? '' : `, built from ${listed([...built.numbers.keys()])}`;
}

/** As it can be painted. */
function courseOf(ground: Ground, change: Part['change'] & { kind: 'value' }): string | null {
  const course = ground.trend.courseOf(change.themes[0] ?? -1, change.token);
  return course === null ? null : toCssText(paintable(course.expected));
}

/** Tokens of a case, other than this one, whose chain ends on or passes through it. */
function usersOf(ground: Ground, one: Case, token: number): readonly string[] {
  const { index } = ground.world;
  return [one.fore, ...one.back.map((layer) => layer.ref)].flatMap((ref) =>
    ref.kind === 'token' && ref.token !== token && index.chainOf(one.theme, ref.token).includes(token)
      ? [index.pathOf(ref.token)]
      : [],
  );
}

function comparison(now: Parameters<typeof toOklch>[0], then: Parameters<typeof toOklch>[0]): string {
  const [from, to] = [toOklch(now), toOklch(then)];
  const paler = from.chroma - to.chroma;
  const change = to.okLightness - from.okLightness;
  if (then.alpha - now.alpha > Math.abs(change)) return 'faint';
  if (paler > 0.04 && paler > Math.abs(change)) return 'colourful';
  return change > 0 ? 'dark' : 'light';
}

function aliasSentence(ground: Ground, change: Part['change'] & { kind: 'alias' }, of: WhyOf): string {
  const { index } = ground.world;
  const { repair, evidence } = of;
  const where = listed(repair.themes);
  const [theme = -1] = change.themes;
  const { reference } = index.table;
  const inherited =
    theme !== reference &&
    index.governedBy(theme, change.token).includes(reference) &&
    change.themes.length < index.governedBy(theme, change.token).length;
  const [name, from] = [index.pathOf(change.token), repair.from];
  const lead = inherited
    ? `${name} has no value of its own in ${where} and keeps ${from} of ${index.table.themes[reference]?.name ?? ''}`
    : `${name} points at ${from} in ${where}`;
  const opinion = ground.siblings.opinionOf(theme, change.token);
  if (evidence.siblings === 'odd' && (evidence.because === 'ramp' || isAmong(index, change.target, opinion.pointTo))) {
    const there = index.table.themes[reference]?.name ?? '';
    const before = rampOf(index, reference, change.token);
    const now = rampOf(index, theme, change.target);
    return evidence.because === 'ramp'
      ? `${lead}, while others on ${before} in ${there} ${before === now ? 'stay on it' : `turn to ${now}`} here`
      : `${lead}, while others on its step${opinion.asksNear ? ' or beside it' : ''} in ${there} point to ${listedBriefly(opinion.pointTo.map(index.pathOf), 2)} here`;
  }
  return `${lead}, ${shortfall(ground, of.shown)}`;
}

/** On their step, whatever its ramp: else what they do is no reason to point there. */
function isAmong(index: TableIndex, target: number, others: readonly number[]): boolean {
  const position = index.stepOf(target)?.position;
  return others.some((other) => other === target || (position !== undefined && index.stepOf(other)?.position === position));
}

function rampOf(index: TableIndex, theme: number, token: number): string {
  const step = index.stepOf(index.rootOf(theme, token));
  return step === null ? 'no ramp' : (index.table.ramps[step.ramp]?.name ?? '');
}

function onPages({ pages }: WhyOf): string {
  return pages > 1 ? ` (${counted(pages, 'page')})` : '';
}

function useSentence(ground: Ground, change: Part['change'] & { kind: 'use' }, of: WhyOf): string {
  const { index } = ground.world;
  const { site } = change;
  const what = WHAT[site.side === 'surface' ? 'surface' : of.shown.role];
  const pages = onPages(of);
  const from = nameOfRef(index, site.ref);
  const verb = site.ref.kind === 'literal' ? 'writes out' : 'takes';
  const strange = of.evidence.role === 'strange' ? `, which elsewhere is no colour for ${many(what)}` : '';
  const wrong = whatIsWrong(ground, of);
  if (of.variants.length > 0) {
    const colors = of.variants.map((each) => `${each.from} in ${each.of}`);
    const tokens = [...new Set(of.variants.map((each) => each.to))];
    return `${of.place}${pages} takes colours for its ${what}${of.variants.every(isWrittenOut) ? ' that are written out' : ''}, one for each variant: ${listedBriefly(colors, 4)}${wrong}; ${listedBriefly(tokens, 3)} ${tokens.length === 1 ? 'is' : 'are'} there for that${withInks(ground, of.parts.flatMap(usedInks))}`;
  }
  const isBuilt = of.builtFrom.length > 0 && tokensOf(site.ref).every((token) => isFunction(index, token));
  const taken = isBuilt ? `builds ${from} from ${listed(of.builtFrom)}` : `${verb} ${from}`;
  // What browsers paint of themselves goes by it, and nobody can work out how.
  const scheme = site.ref.kind === 'system' && site.side === 'surface' ? ', with the color-scheme of the theme' : '';
  return `${of.place}${pages} ${taken} for ${of.place.startsWith('--') ? '' : 'its '}${what}${strange}${wrong}; ${nameInUse(index, change.token)} is there for that${scheme}${withInks(ground, change.inks)}`;
}

/** In which themes it falls short, and in which it merely stayed what it was. */
function whatIsWrong(ground: Ground, of: WhyOf): string {
  const { index } = ground.world;
  const stuck = of.faults.filter((fault) => fault.check === 'unthemed').map((fault) => fault.case.theme);
  const short = of.themes.filter((theme) => of.faults.some((fault) => fault.case.theme === theme && fault.check !== 'unthemed'));
  const wrong = of.told.filter((fault) => fault.check !== 'unthemed');
  const shown = short.flatMap((theme) => wrong.find((fault) => fault.case.theme === theme) ?? [])[0]?.case ?? of.shown;
  const only = of.themes.filter((theme) => stuck.includes(theme) && !short.includes(theme));
  return [
    ...(short.length === 0 ? [] : [`, ${shortfall(ground, shown)} in ${listed(themeNames(index, short))}`]),
    ...(only.length === 0
      ? []
      : [`, ${short.length === 0 ? 'which' : 'and'} stays as it is in ${listed(themeNames(index, only))}`]),
  ].join('');
}

/** What must change with a surface. */
function withInks(ground: Ground, inks: readonly InkUse[]): string {
  const tokens = [...new Set(inks.map((ink) => nameInUse(ground.world.index, ink.token)))];
  return tokens.length === 0 ? '' : `, with ${listedBriefly(tokens, 3)} for what is on it`;
}

function isWrittenOut({ change }: VariantName): boolean {
  return change.kind === 'use' && change.site.ref.kind === 'literal';
}

function usedInks({ change }: Part): readonly InkUse[] {
  return change.kind === 'use' ? change.inks : [];
}

function many(what: string): string {
  return what === 'text' ? what : `${what}s`;
}

function companion(ground: Ground, part: Part): string {
  const { index } = ground.world;
  const { change } = part;
  switch (change.kind) {
    case 'alias':
      return `; ${index.pathOf(change.token)} must turn with it, to ${index.pathOf(change.target)}`;
    case 'opacity':
      return ', and is made fainter by its opacity';
    case 'value':
    case 'use':
    case 'indicator':
    case 'outline':
    case 'alpha':
    case 'unglow':
    case 'filter':
    case 'add':
    case 'rebuild':
      return '';
  }
}

/** What the repair does, as the end of the sentence. */
function effect(ground: Ground, { repair, touched, parts, evidence, broken }: WhyOf): string {
  const total = Math.max(touched, repair.fixes);
  const all = total === 1 ? 'the one finding' : total === 2 ? 'both findings' : `all ${total} findings`;
  const mends = total === repair.fixes ? all : `${repair.fixes} of ${total} findings`;
  const breaks = repair.breaks === 0 ? 'breaks nothing' : `breaks ${counted(repair.breaks, 'place')} (${listedBriefly(broken, 3)})`;
  const gone = `${mends} ${repair.fixes === 1 ? 'is' : 'are'} gone and ${repair.breaks === 0 ? 'nothing breaks' : breaks}`;
  if (parts.length > 1 && !isOneChange(parts)) return `; together that mends ${mends} and ${breaks}`;
  const change = parts[0]?.change;
  if (repair.change === 'value' && repair.components !== undefined) {
    const said = repair.components.map(({ property, from, to }) => `${property}: ${to} in place of ${from}`);
    return `; ${listed(said)} (${repair.to}) mends ${mends} and ${breaks}`;
  }
  if (change?.kind === 'value' && evidence.course === 'odd' && courseOf(ground, change) === repair.to)
    return `, which mends ${mends} and ${breaks}`;
  switch (change?.kind) {
    case 'use':
      return `, mends ${mends} and ${breaks}`;
    case 'rebuild':
      return `; building the page anew mends ${mends} and ${breaks}`;
    case 'add':
      return `; it would mend ${mends}`;
    case 'indicator':
    case 'outline':
      return `; doing the same mends ${mends} and ${breaks}`;
    case 'alpha':
      return `; ${shareOf(change.alpha)} of it ${change.alpha < 1 ? 'is enough, ' : ''}mends ${mends} and ${breaks}`;
    case 'opacity':
    case 'filter':
      return `; without it ${gone}`;
    case 'unglow':
      return `; ${repair.change === 'style' && repair.style.to === 'none' ? 'without it' : 'in black'} ${gone}`;
    case 'value':
    case 'alias':
    case undefined:
      return `; ${repair.to} mends ${mends} and ${breaks}`;
  }
}
