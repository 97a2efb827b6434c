// Samples, streamed view by view → cases. What repeats is counted, not kept: a million samples become some ten thousand cases.
import type { Judge } from '../../checks/check.ts';
import type { Opaque } from '../../colour/color.ts';
import { opaque, TRANSPARENT } from '../../colour/color.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { ContrastLevel } from '../../colour/text-requirement.ts';
import type { CheckId, Finding } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Fade, PictureSample, Sample, SampleKind } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import type { Case, CaseFilter, CaseLayer, Example } from './case.ts';
import { familyKey, foreAndBackKey, toldKey } from './case-key.ts';
import { elementNumber } from './element-number.ts';
import { filterDeclarations } from './filter-declarations.ts';
import { appendTo } from '../counting.ts';
import type { PaintReader, PaintRef } from './paint-ref.ts';
import { readLayers } from './read-layers.ts';
import type { Painted, Reading } from './read-sample.ts';
import { isPainted, ownPaint, readSample } from './read-sample.ts';
import { CANVAS } from './selectors.ts';
import { settleCase } from './settle-case.ts';
import type { TableIndex } from '../tokens/table-index.ts';

export interface CaseCollector {
  /** Views may come in any order; a view's samples may come in parts. Views of themes that the table lacks are left out. */
  add(view: ViewRef, samples: Iterable<Sample>): void;
  /** Sorted by key, so that the order of views and samples leaves no trace. */
  close(): readonly Case[];
}

type Growing = Omit<Case, 'id' | 'samples' | 'findings' | 'written' | 'faded' | 'wrote' | 'place' | 'elements' | 'grounds'> & {
  /** The key without what was seen. */
  readonly made: string;
  samples: number;
  readonly elements: Set<number>;
  readonly grounds: Set<number>;
  readonly findings: Map<CheckId, number[]>;
  readonly written: Map<number, readonly WrittenPlace[]>;
  readonly faded: Map<number, Fade>;
  wrote: readonly WrittenPlace[];
  /** The sample that says so. */
  writer: Example;
  place: Example;
  /** View of the sample counted last. */
  last: ViewRef;
};

/** Elements whose filter lies over a whole page. */
export const PAGE_ROOTS: readonly string[] = ['html', ':root', 'body', 'html > body'];

export type IsExempt = (view: ViewRef, sample: Sample, check: CheckId) => boolean;

export interface CasesFrom {
  readonly index: TableIndex;
  readonly readPaint: PaintReader;
  readonly findings: readonly Finding[];
  readonly judges: readonly Judge[];
  readonly level: ContrastLevel;
  readonly isExempt: IsExempt;
}

export function openCases({ index, readPaint, findings, judges, level, isExempt }: CasesFrom): CaseCollector {
  const ofKind = new Map<SampleKind, readonly Judge[]>();
  const judgesOf = (kind: SampleKind): readonly Judge[] => {
    let own = ofKind.get(kind);
    if (own === undefined) ofKind.set(kind, (own = judges.filter(({ kinds }) => kinds.includes(kind))));
    return own;
  };
  const exemptOf = (view: ViewRef, sample: Sample): string =>
    sample.exemptions === undefined
      ? ''
      : judgesOf(sample.kind)
          .flatMap(({ id }) => (isExempt(view, sample, id) ? [id] : []))
          .join(' ');
  const findingsAt = findingsByPlace(findings);
  const cases = new Map<string, Growing>();
  /** Cases by what a sample says in short: nearly all samples are found here at once. */
  const bySight = new Map<string, Growing>();
  const seen = openSight();
  const rootFilters = index.table.themes.map(() => new Map<string, CaseFilter>());
  const declarations = filterDeclarations();

  const addSample = (view: ViewRef, theme: number, sample: Painted): void => {
    const reading = readSample(sample, { level, judges: judgesOf(sample.kind), exempt: exemptOf(view, sample) });
    const own = findingsAt.get(view.id)?.get(sample.key);
    if (reading.hidden && own === undefined) return;
    const fore = readPaint(theme, reading.paint);
    const back = reading.layers === null ? null : readLayers(theme, reading.layers, readPaint);
    const sight = `${theme} ${toldKey(reading)} ${fore.number}${back?.mark ?? '?'} ${reading.seenFore} ${reading.seenBacks.join(' ')}`;
    let found = bySight.get(sight);
    if (found === undefined) bySight.set(sight, (found = caseFor(theme, reading, fore.ref, back?.layers ?? null)));
    const top = reading.layers?.at(-1);
    if (top !== undefined) found.grounds.add(elementNumber(view, top.selector ?? CANVAS));
    if (sample.kind === 'surface') found.elements.add(elementNumber(view, sample.selector));
    else if (reading.role === 'face') found.elements.add(elementNumber(view, reading.paint.on ?? sample.selector));
    count(found, view, sample, own ?? []);
  };

  const caseFor = (theme: number, reading: Reading, fore: PaintRef, back: readonly CaseLayer[] | null): Growing => {
    const { role, opacity: foreOpacity, required, facts, judged } = reading;
    const exempt = checksIn(reading.exempt);
    const family = familyKey(reading, fore, back);
    const made = `${theme} ${family}${foreAndBackKey(fore, back)}`;
    const painting = { fore, foreOpacity, back, isShadow: facts.kind === 'shadow' };
    const settled = settleCase(painting, { fore: seen(reading.seenFore), backs: reading.seenBacks.map(seen) }, []);
    // Where the sums agree with what was seen, what was seen is no part of the key.
    const backKey = settled.backFixed ? reading.seenBacks.join(' ') : '';
    const key = `${made}|${backKey}|${settled.foreFixed || settled.share !== 1 ? reading.seenFore : ''}`;
    const found = cases.get(key) ?? {
      ...settled,
      ...begin(),
      key,
      made,
      family,
      theme,
      role,
      fore,
      foreOpacity,
      required,
      facts,
      judged,
      exempt,
    };
    cases.set(key, found);
    return found;
  };

  const addPicture = (view: ViewRef, theme: number, sample: PictureSample): void => {
    for (const { selector, filter, written } of sample.filters) {
      if (PAGE_ROOTS.includes(selector)) rootFilters[theme]?.set(`${selector} ${filter}`, { selector, filter });
      if (written !== undefined) declarations.learn(theme, { selector, filter, written });
    }
    const own = findingsAt.get(view.id)?.get(sample.key);
    const exempt = exemptOf(view, sample);
    const family = `picture ${exempt}${sample.filters.map(({ selector, filter }) => `${selector} ${filter}`).join('|')}`;
    const key = `${theme} ${family}`;
    const found = cases.get(key) ?? {
      ...begin(),
      ...pictureCase(sample.filters.map(({ selector, filter }) => ({ selector, filter }))),
      exempt: checksIn(exempt),
      key,
      made: key,
      family,
      theme,
    };
    cases.set(key, found);
    count(found, view, sample, own ?? []);
  };

  const count = (into: Growing, view: ViewRef, sample: Sample, own: readonly number[]): void => {
    into.samples += 1;
    // Of the samples of a view that is no candidate, one comparison is enough.
    if (into.last !== view || into.place.view === view) {
      into.last = view;
      if (comesBefore(view, sample, into.place)) into.place = { view, sample };
    }
    const written = isPainted(sample) ? ownPaint(sample).written : undefined;
    if (written !== undefined && comesBefore(view, sample, into.writer)) {
      into.wrote = written;
      into.writer = { view, sample };
    }
    const faded = sample.kind === 'text' ? sample.fade : undefined;
    for (const at of own) {
      const check = findings[at]?.check;
      if (check !== undefined) appendTo(into.findings, check, at);
      if (written !== undefined) into.written.set(at, written);
      if (faded !== undefined) into.faded.set(at, faded);
    }
  };

  return {
    add: (view, samples) => {
      const theme = index.themeAt(view.theme);
      if (theme < 0) return;
      for (const sample of samples) {
        if (isPainted(sample)) addSample(view, theme, sample);
        else addPicture(view, theme, sample);
      }
    },
    close: () => {
      const filters = rootFilters.map((map) =>
        [...map.values()].toSorted((a, b) => PAGE_ROOTS.indexOf(b.selector) - PAGE_ROOTS.indexOf(a.selector)),
      );
      const settled = [...cases.values()].map((each) => underFilters(each, filters[each.theme] ?? []));
      return mergeEqual(settled)
        .toSorted((one, other) => (one.key < other.key ? -1 : 1))
        .map((each, id) => ({ ...each, filters: each.filters.map((filter) => declarations.of(each.theme, filter)), id }));
    },
  };
}

function begin(): Pick<
  Growing,
  'samples' | 'elements' | 'grounds' | 'findings' | 'written' | 'faded' | 'wrote' | 'writer' | 'place' | 'last'
> {
  const nowhere = { id: '\uffff', page: '', theme: '', state: '', viewport: '' };
  return {
    samples: 0,
    elements: new Set(),
    grounds: new Set(),
    findings: new Map(),
    written: new Map(),
    faded: new Map(),
    wrote: [],
    writer: { view: nowhere, sample: null },
    place: { view: nowhere, sample: null },
    last: nowhere,
  };
}

function checksIn(exempt: string): ReadonlySet<CheckId> {
  return exempt === '' ? NO_CHECKS : new Set(exempt.split(' '));
}

const NO_CHECKS: ReadonlySet<CheckId> = new Set();

const UNPAINTED: PaintRef = { kind: 'unknown', color: TRANSPARENT };

function pictureCase(
  filters: readonly CaseFilter[],
): Omit<Growing, 'key' | 'made' | 'family' | 'theme' | 'exempt' | keyof ReturnType<typeof begin>> {
  const facts = { kind: 'picture', standing: '', edged: false } as const;
  const black = opaque(TRANSPARENT);
  const unseen = {
    fore: UNPAINTED,
    foreOpacity: 1,
    share: 1,
    back: [],
    foreFixed: true,
    backFixed: true,
    seenFore: black,
    seenBacks: [black],
  };
  return { ...unseen, role: 'picture', isLifted: false, filters, required: 0, facts, judged: true };
}

/** What a filter over the whole page did to a case is part of how it is made. */
function underFilters(one: Growing, filters: readonly CaseFilter[]): Growing {
  if (filters.length === 0 || one.role === 'picture' || (!one.foreFixed && !one.backFixed)) return one;
  const isShadow = one.facts.kind === 'shadow';
  const painting = { fore: one.fore, foreOpacity: one.foreOpacity, back: isShadow ? null : one.back, isShadow };
  const settled = settleCase(painting, { fore: one.seenFore, backs: one.seenBacks }, filters);
  if (settled.filters.length === 0) return one;
  return { ...one, ...settled, key: isShadow ? one.key : `${one.made}|filtered` };
}

function mergeEqual(cases: readonly Growing[]): readonly Growing[] {
  const merged = new Map<string, Growing>();
  for (const each of cases) {
    const known = merged.get(each.key);
    if (known === undefined) {
      merged.set(each.key, each);
      continue;
    }
    known.samples += each.samples;
    for (const element of each.elements) known.elements.add(element);
    for (const ground of each.grounds) known.grounds.add(ground);
    for (const [check, list] of each.findings) for (const at of list) appendTo(known.findings, check, at);
    for (const [at, written] of each.written) known.written.set(at, written);
    for (const [at, fade] of each.faded) known.faded.set(at, fade);
    const { view, sample } = each.writer;
    if (sample !== null && comesBefore(view, sample, known.writer)) {
      known.wrote = each.wrote;
      known.writer = each.writer;
    }
    if (each.place.sample !== null && comesBefore(each.place.view, each.place.sample, known.place)) known.place = each.place;
  }
  return [...merged.values()];
}

/** View id → key of the sample → places in the list. Exempt findings need no cause; drift has causes of its own. */
function findingsByPlace(findings: readonly Finding[]): ReadonlyMap<string, ReadonlyMap<string, readonly number[]>> {
  const views = new Map<string, Map<string, number[]>>();
  findings.forEach((finding, at) => {
    if (finding.status === 'exempt' || finding.check === 'drift') return;
    let view = views.get(finding.view);
    if (view === undefined) views.set(finding.view, (view = new Map<string, number[]>()));
    appendTo(view, finding.key, at);
  });
  return views;
}

function openSight(): (text: string) => Opaque {
  const known = new Map<string, Opaque>();
  return (text) => {
    let color = known.get(text);
    if (color === undefined) known.set(text, (color = opaque(findColor(text) ?? TRANSPARENT)));
    return color;
  };
}

function comesBefore(view: ViewRef, sample: Sample, place: Example): boolean {
  if (place.sample === null) return true;
  return view.id !== place.view.id ? view.id < place.view.id : sample.key < place.sample.key;
}
