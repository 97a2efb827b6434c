// All findings of a run in memory, with what they are sorted and filtered by: any filter over 160,000 of them is one pass over columns
// of numbers, which tells the list, its groups and what each filter would leave. What they are searched by is read when somebody
// searches. Pure but for `readIndex`.
import type { Cause } from '../../src/samples/finding.ts';
import { causeSubject } from '../../src/gate/words.ts';
import type { RunReader } from '../../src/ledger/ports.ts';
import type { LeanFinding } from '../../src/ledger/read/lean.ts';
import type { Grouping, ListFilter, ListGroup, Standing } from '../api/list.ts';

const OF_VIEWS = ['page', 'theme', 'state', 'viewport'] as const;
const OF_FINDINGS = ['owner', 'check', 'level', 'status', 'cause'] as const;
const COLUMNS = [...OF_VIEWS, ...OF_FINDINGS];
type ColumnName = (typeof COLUMNS)[number];

/** Values by number, each name once. */
export interface Column {
  /** `-` where there is none. */
  readonly names: readonly string[];
  readonly of: readonly number[];
}

export interface FindingIndex {
  readonly size: number;
  /** Numbers in the ledger, in plan order, down each page. */
  readonly numbers: readonly number[];
  readonly columns: Readonly<Record<ColumnName, Column>>;
  /** Of faults of token files, by place: the token they are about. */
  readonly faulty: ReadonlyMap<number, string>;
  /** Read once, when first asked for. */
  readonly words: () => Promise<Words>;
  readonly causes: ReadonlyMap<string, Cause>;
  /** Tokens and steps that a cause names. */
  readonly tokensOf: ReadonlyMap<string, ReadonlySet<string>>;
}

/** By place in the index. */
export interface Words {
  /** Selector, message and measures in small letters. */
  readonly texts: readonly string[];
  readonly selectors: readonly string[];
}

export async function readIndex(ledger: RunReader, run: string): Promise<FindingIndex> {
  const causes = new Map((await ledger.causes(run)).map((cause) => [cause.id, cause]));
  const numbers: number[] = [];
  const faulty = new Map<number, string>();
  const writers = {
    page: writer(),
    theme: writer(),
    state: writer(),
    viewport: writer(),
    owner: writer(),
    check: writer(),
    level: writer(),
    status: writer(),
    cause: writer(),
  };
  await ledger.leanFindings(run, async (part: readonly LeanFinding[]) => {
    for (const finding of part) {
      for (const name of OF_VIEWS) writers[name].add(finding.view[name]);
      for (const name of OF_FINDINGS) writers[name].add(finding[name] ?? '-');
      if (finding.token !== null) faulty.set(numbers.length, finding.token);
      numbers.push(finding.n);
    }
    await othersFirst();
  });
  const tokensOf = new Map([...causes].map(([id, cause]) => [id, tokensIn(cause)]));
  let words: Promise<Words> | undefined;
  return {
    size: numbers.length,
    numbers,
    columns: writers,
    faulty,
    words: () => (words ??= readWords(ledger, run, numbers)),
    causes,
    tokensOf,
  };
}

async function readWords(ledger: RunReader, run: string, numbers: readonly number[]): Promise<Words> {
  const places = new Map(numbers.map((n, at) => [n, at]));
  const texts = new Array<string>(numbers.length).fill('');
  const selectors = new Array<string>(numbers.length).fill('');
  await ledger.findingWords(run, async (part) => {
    for (const { n, selector, words } of part) {
      const at = places.get(n);
      if (at === undefined) continue;
      texts[at] = `${selector}\n${words}`.toLowerCase();
      selectors[at] = selector;
    }
    await othersFirst();
  });
  return { texts, selectors };
}

/** Whoever else waits has a turn. */
function othersFirst(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

function writer(): Column & { readonly add: (name: string) => void } {
  const codes = new Map<string, number>();
  const names: string[] = [];
  const of: number[] = [];
  return {
    names,
    of,
    add: (name) => {
      let code = codes.get(name);
      if (code === undefined) {
        code = names.push(name) - 1;
        codes.set(name, code);
      }
      of.push(code);
    },
  };
}

export function tokensIn({ token, step, chain, repair }: Cause): ReadonlySet<string> {
  const changed = repair?.change === 'value' || repair?.change === 'alias' ? repair.of : undefined;
  return new Set([token, step, ...chain.map((link) => link.token), changed].filter((one) => one !== undefined));
}

/** The name of a finding's value. */
export function valueAt({ columns }: FindingIndex, column: ColumnName, at: number): string {
  return columns[column].names[columns[column].of[at] ?? -1] ?? '-';
}

type Facet = readonly (readonly [string, number])[];
const FACETS = ['status', 'theme', 'owner', 'check', 'level'] as const;

export interface Narrowed {
  /** Places in the index, group after group. */
  readonly order: readonly number[];
  readonly groups: readonly ListGroup[];
  readonly fresh: number;
  readonly errors: number;
  /** How many findings each value of a member has, under all other members. */
  readonly facets: Readonly<Record<(typeof FACETS)[number], Facet>>;
}

/** @param words for a filter with `find`: `wordsFor` of it; null leaves its words aside */
export function narrow(index: FindingIndex, filter: ListFilter, grouping: Grouping, words: Words | null = null): Narrowed {
  const { columns } = index;
  const tests = testsOf(index, filter);
  const text = textTest(index, filter, words);
  const groupOf = grouper(index, grouping);
  const members = new Map<string | number, number[]>();
  const counts = FACETS.map((name) => new Array<number>(columns[name].names.length).fill(0));
  for (let at = 0; at < index.size; at += 1) {
    // One that fails a single member counts among that member's other values; one that fails two counts nowhere.
    let failed = -1;
    let fails = 0;
    for (let test = 0; test < tests.length && fails < 2; test += 1) {
      const { of, passes, facet } = tests[test] ?? NO_TEST;
      if (passes[of[at] ?? -1] === true) continue;
      fails += facet < 0 ? 2 : 1;
      failed = facet;
    }
    if (fails > 1 || (text !== null && !text(at))) continue;
    for (let facet = 0; facet < FACETS.length; facet += 1) {
      if (fails === 1 && facet !== failed) continue;
      const row = counts[facet];
      const code = columns[FACETS[facet] ?? 'status'].of[at] ?? -1;
      if (row !== undefined) row[code] = (row[code] ?? 0) + 1;
    }
    if (fails > 0) continue;
    const key = groupOf(at);
    const there = members.get(key);
    if (there === undefined) members.set(key, [at]);
    else there.push(at);
  }
  const groups = [...members.values()].map((of) => ({ group: groupFor(index, grouping, of), of }));
  // Pages and themes were met in plan order.
  if (grouping !== 'page' && grouping !== 'theme') groups.sort((a, b) => b.of.length - a.of.length);
  const facetOf = (at: number): Facet =>
    (counts[at] ?? []).flatMap((count, code) =>
      count === 0 ? [] : [[columns[FACETS[at] ?? 'status'].names[code] ?? '-', count] as const],
    );
  return {
    order: joined(groups),
    groups: groups.map(({ group }) => group),
    fresh: groups.reduce((sum, { group }) => sum + group.fresh, 0),
    errors: groups.reduce((sum, { group }) => sum + group.errors, 0),
    facets: { status: facetOf(0), theme: facetOf(1), owner: facetOf(2), check: facetOf(3), level: facetOf(4) },
  };
}

/** As `flatMap` would, which takes several times as long for 160,000. */
function joined(groups: readonly { readonly of: readonly number[] }[]): readonly number[] {
  const all: number[] = [];
  for (const { of } of groups) for (const at of of) all.push(at);
  return all;
}

interface Test {
  readonly of: readonly number[];
  /** By value. */
  readonly passes: readonly boolean[];
  /** Place in `FACETS`, -1 for none. */
  readonly facet: number;
}
const NO_TEST: Test = { of: [], passes: [], facet: -1 };

function testsOf({ columns }: FindingIndex, filter: ListFilter): readonly Test[] {
  const { status = 'open' } = filter;
  return COLUMNS.flatMap((name): readonly Test[] => {
    const wanted = filter[name];
    if (name !== 'status' && wanted === undefined) return [];
    const passes = columns[name].names.map((value) => (name === 'status' ? standsAs(value, status) : value === wanted));
    return [{ of: columns[name].of, passes, facet: FACETS.findIndex((facet) => facet === name) }];
  });
}

function standsAs(status: string, wanted: Standing): boolean {
  return wanted === 'all' || wanted === status || (wanted === 'open' && status !== 'exempt');
}

/** What narrowing by a filter needs to be read. */
export function wordsFor(index: FindingIndex, { find = '' }: ListFilter): Promise<Words | null> {
  return find === '' ? Promise.resolve(null) : index.words();
}

/** What is decided finding by finding: words in it, and the token it is about. */
function textTest(index: FindingIndex, { find = '', token }: ListFilter, words: Words | null): ((at: number) => boolean) | null {
  const wanted = words === null ? '' : find.toLowerCase();
  if (wanted === '' && token === undefined) return null;
  const { columns, tokensOf, faulty } = index;
  const named = columns.cause.names.map((cause) => token === undefined || tokensOf.get(cause)?.has(token) === true);
  return (at) =>
    (wanted === '' || words?.texts[at]?.includes(wanted) === true) &&
    (token === undefined || named[columns.cause.of[at] ?? -1] === true || faulty.get(at) === token);
}

function grouper(index: FindingIndex, grouping: Grouping): (at: number) => string | number {
  if (grouping === 'none') return () => 0;
  if (grouping === 'token') {
    // Once for each cause, not for each finding.
    const tokens = index.columns.cause.names.map((cause) => tokenOf(index.causes.get(cause)));
    return (at) => index.faulty.get(at) ?? tokens[index.columns.cause.of[at] ?? -1] ?? '-';
  }
  const { of } = index.columns[grouping];
  return (at) => of[at] ?? -1;
}

/** What is to be changed, else what is nearest to the pixel; of token files what they are wrong about. */
function tokenAt(index: FindingIndex, at: number): string {
  return index.faulty.get(at) ?? tokenOf(index.causes.get(valueAt(index, 'cause', at)));
}

function tokenOf(cause: Cause | undefined): string {
  return cause?.step ?? cause?.token ?? '-';
}

function groupFor(index: FindingIndex, grouping: Grouping, of: readonly number[]): ListGroup {
  const { status, level } = index.columns;
  const isNew = status.names.indexOf('new');
  const isError = level.names.indexOf('error');
  let fresh = 0;
  let errors = 0;
  for (const at of of) {
    if (status.of[at] === isNew) fresh += 1;
    if (level.of[at] === isError) errors += 1;
  }
  const first = of[0] ?? -1;
  const key = grouping === 'none' ? '' : grouping === 'token' ? tokenAt(index, first) : valueAt(index, grouping, first);
  return { key, title: titleOf(index, key, grouping), count: of.length, fresh, errors };
}

const NONE_WORDS: Readonly<Record<Grouping, string>> = {
  cause: 'no cause told',
  owner: 'nobody',
  token: 'no token',
  page: '',
  theme: '',
  check: '',
  none: 'all',
};

function titleOf({ causes }: FindingIndex, key: string, grouping: Grouping): string {
  if (key === '-' || key === '') return NONE_WORDS[grouping];
  if (grouping !== 'cause') return key;
  const cause = causes.get(key);
  return cause === undefined ? key : (causeSubject(cause) ?? cause.layer);
}
