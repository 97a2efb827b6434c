// The newest stored run → how its pages use the tokens; null where nothing is stored.
import { standardOf } from '../checks/verdict-on-sample.ts';
import { GloamError } from '../errors/gloam-error.ts';
import { openLedger } from '../ledger/ledger.ts';
import { storeExists, type StorePlace } from '../ledger/store-at.ts';
import type { PageProperty } from '../samples/captured-view.ts';
import type { ViewRef } from '../samples/view.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import type { NamePattern } from '../tokens/property-names.ts';
import type { RolesOf } from '../tokens/roles.ts';
import { gatherRoles } from '../tokens/roles.ts';
import type { VerifiedNames } from '../tokens/verify-names.ts';
import { verifyNames } from '../tokens/verify-names.ts';
import type { MetTokens } from '../triage/tokens/token-uses.ts';
import { openTokenUses } from '../triage/tokens/token-uses.ts';
import { allOf, lastRun, partWords } from './choose-run.ts';
import type { Io } from './io.ts';
import type { WrittenBook } from './written-facts.ts';
import { openWrittenFacts } from './written-facts.ts';
import type { Session } from './command.ts';

export interface RunUses extends MetTokens {
  readonly run: string;
  /** Every page of the configuration was rendered. */
  readonly whole: boolean;
  readonly roles: RolesOf;
  readonly names: VerifiedNames;
  /** Token → the property that stands for it on the pages. */
  readonly found: ReadonlyMap<string, string>;
  /** All custom properties that pages had. */
  readonly properties: ReadonlySet<string>;
  readonly written: WrittenBook;
}

interface Naming {
  readonly graph: TokenGraph;
  readonly css: readonly NamePattern[];
  /** The graph was made of the pages' own custom properties: paths are their names. */
  readonly isOfPage?: boolean;
}

/** Commands on token files do without a store: one that cannot be read is told, and stops nothing. */
export async function readRunUses({ io, store }: Pick<Session, 'io' | 'store'>, naming: Naming): Promise<RunUses | null> {
  try {
    return await readUses({ io, store: await store() }, naming);
  } catch (error) {
    if (!(error instanceof GloamError)) throw error;
    io.note(`The store was left aside: ${error.message} ${error.hint}`);
    return null;
  }
}

function ownNames(graph: TokenGraph): VerifiedNames {
  const names = [...graph.tokens.keys()];
  return {
    found: new Map(names.map((name) => [name, name])),
    missing: [],
    unknown: [],
    collisions: [],
    tokensOf: new Map(names.map((name) => [name, [name]])),
  };
}

/** @param store folder; opened for reading, and only where there is one */
async function readUses(
  { io, store }: { readonly io: Io; readonly store: StorePlace },
  { graph, css, isOfPage = false }: Naming,
): Promise<RunUses | null> {
  if (!(await storeExists(store))) return null;
  const ledger = await openLedger(store, { access: 'read' });
  try {
    const last = await lastRun(ledger);
    if (last === null) return null;
    const { run: latest, newer } = last;
    if (newer !== null)
      io.note(`Colours on pages are those of run ${latest.id}, the last whole one; run ${newer.id} ${partWords(newer)}.`);
    const run = latest.id;
    const views = (await allOf((request) => ledger.views(run, request))).filter(({ status }) => status === 'captured');
    // Names first: what a property stands for is needed to read the samples. Views of a page and theme share its style sheets.
    const properties = new Set<string>();
    const painting: { readonly view: ViewRef; readonly properties: readonly PageProperty[] }[] = [];
    const seen = new Set<string>();
    for (const view of views) {
      const place = JSON.stringify([view.page, view.theme]);
      if (seen.has(place)) continue;
      seen.add(place);
      const here = await ledger.propertiesOf(run, view.id);
      for (const { name, at } of here) if (at !== '') properties.add(name);
      painting.push({ view, properties: here.filter(({ paints }) => paints !== undefined) });
    }
    const names = isOfPage ? ownNames(graph) : verifyNames({ graph, patterns: css, pageProperties: properties });
    const uses = openTokenUses(names.tokensOf, standardOf(latest));
    for (const each of painting) uses.addProperties(each.view, each.properties);
    const written = openWrittenFacts(await ledger.causes(run), names.tokensOf, standardOf(latest));
    for (const view of views) {
      const { samples } = await ledger.samplesOf(run, view.id);
      uses.add(view, samples);
      written.add(view, samples);
    }
    const met = uses.close();
    const whole = !latest.narrowed && latest.part === null && (latest.totals?.failed ?? 1) === 0;
    return { ...met, run, whole, names, found: names.found, properties, written, roles: gatherRoles(met.uses) };
  } finally {
    await ledger.close();
  }
}
