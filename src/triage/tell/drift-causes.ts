// Findings `drift` → causes: what the comparison of pictures found to be one change is one cause, on however many pages it shows. Nothing
// is proposed: whether the change was meant is for people to say, by accepting the pictures or by taking it back.
import { fnv1a64 } from '../../checks/finding-id.ts';
import { changeWords } from '../../pictures/change-words.ts';
import type { Change, Explanation } from '../../samples/difference.ts';
import type { CauseLayer, ChainLink, Finding } from '../../samples/finding.ts';
import type { ExplainedCause } from './causes.ts';
import { linksOfToken } from './chain.ts';
import { appendTo } from '../counting.ts';
import { counted, listed } from './naming.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** What each finding `drift` tells of, by the finding's id. */
export type DriftExplanations = ReadonlyMap<string, Explanation>;

interface PlacedChange {
  /** Place in the list of findings. */
  readonly at: number;
  readonly finding: Finding;
  readonly change: Change;
}

export function driftCauses(
  index: TableIndex,
  findings: readonly Finding[],
  explanations: DriftExplanations,
): readonly ExplainedCause[] {
  const groups = new Map<string, PlacedChange[]>();
  findings.forEach((finding, at) => {
    const explanation = finding.check === 'drift' && finding.status !== 'exempt' ? explanations.get(finding.id) : undefined;
    if (explanation !== undefined) appendTo(groups, explanation.group, { at, finding, change: explanation.change });
  });
  return [...groups].flatMap(([group, places]) => causeOfGroup(index, group, places) ?? []);
}

function causeOfGroup(index: TableIndex, group: string, places: readonly PlacedChange[]): ExplainedCause | null {
  const [first] = places;
  if (first === undefined) return null;
  const { change } = first;
  const seen = new Set(places.map(({ finding }) => finding.theme));
  const themes = index.table.themes.flatMap(({ name }) => (seen.has(name) ? [name] : []));
  const pages = new Set(places.map(({ finding }) => finding.page)).size;
  const share = shareOf(places);
  const theme = index.themeAt(first.finding.theme);
  const token = tokenOf(index, change);
  const chain = chainOfChange(index, theme, change, token);
  const isStep = token >= 0 && index.stepOf(token) !== null;
  return {
    cause: {
      id: fnv1a64(`drift ${group}`),
      layer: layerOf(index, theme, change, token),
      ...(token < 0 ? {} : isStep ? { step: index.pathOf(token) } : { token: index.pathOf(token) }),
      ...(chain[0]?.property === undefined ? {} : { property: chain[0].property }),
      chain,
      findings: places.length,
      themes,
      pages,
      confidence: change.kind === 'unexplained' ? 0 : Number(Math.min(0.99, share).toFixed(2)),
      why: `${sentence(change, token < 0 ? undefined : index.pathOf(token))} ${Math.floor(100 * share)} % of the changed pixels on ${counted(pages, 'page')} in ${listed(themes)}.`,
    },
    findings: places.map(({ at }) => at),
    changes: [],
  };
}

/** The steps of a ramp are told apart from the tokens that point at them: the comparison names what is nearest to the ramp. */
function tokenOf(index: TableIndex, change: Change): number {
  if (change.kind !== 'recoloured' || change.token === null) return -1;
  const carrier = index.tokenOfProperty(change.token);
  return carrier >= 0 ? carrier : index.tokenAt(change.token);
}

function layerOf(index: TableIndex, theme: number, change: Change, token: number): CauseLayer {
  switch (change.kind) {
    case 'recoloured':
      if (change.token === null) return 'usage';
      return index.stepOf(token) !== null && index.definitionOf(theme, token)?.kind !== 'alias' ? 'ramp' : 'token';
    case 'rewired':
      return 'usage';
    case 'text':
    case 'moved':
    case 'added':
    case 'removed':
    case 'picture':
      // The page itself is another; nothing of the theme is.
      return 'content';
    case 'unexplained':
      return 'unknown';
  }
}

/** A token shows through many CSS properties: then the chain starts with the token itself. */
function chainOfChange(index: TableIndex, theme: number, change: Change, token: number): readonly ChainLink[] {
  if (token >= 0) return linksOfToken(index, theme, token);
  switch (change.kind) {
    case 'recoloured':
      return [{ property: change.token ?? change.property, value: change.to }];
    case 'rewired':
      return [{ property: change.property, value: change.to }];
    case 'text':
    case 'moved':
    case 'added':
    case 'removed':
    case 'picture':
    case 'unexplained':
      return [];
  }
}

/** Of the changed pixels of the views it shows in; each finding tells its pixels and which share of its view's changes they are. */
function shareOf(places: readonly PlacedChange[]): number {
  let [mine, all] = [0, 0];
  for (const { finding } of places) {
    const pixels = Number(finding.measured['pixels'] ?? 0);
    const share = Number(finding.measured['ofChange'] ?? 0);
    mine += pixels;
    all += share > 0 ? pixels / share : 0;
  }
  return all === 0 ? 0 : Math.min(1, mine / all);
}

function sentence(change: Change, token: string | undefined): string {
  if (change.kind === 'unexplained') return 'No change of colour, text, place or picture explains';
  const words = changeWords(change, token);
  // Names keep their own first letter.
  const started =
    change.kind === 'recoloured' || change.kind === 'rewired' ? words : `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
  return `${started} since the pictures were accepted, which explains`;
}
