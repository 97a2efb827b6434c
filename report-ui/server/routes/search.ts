// Search over the names of a run: tokens, pages, causes, owners, themes, selectors, texts, colours.
import type { FastifyInstance } from 'fastify';
import type { SearchHit } from '../../api/search.ts';
import { causeSubject } from '../../../src/gate/words.ts';
import type { ServerContext } from '../context.ts';
import type { FindingIndex, Words } from '../finding-index.ts';
import { valueAt } from '../finding-index.ts';
import { route } from '../route.ts';

const OF_A_KIND = 6;
const MOST = 30;

export function searchRoutes(app: FastifyInstance, { models, indexes, sources }: ServerContext): void {
  route(app, 'search', async ({ params, query }) => {
    const model = await models.of(params.run);
    const index = await indexes.of(model);
    const words = await index.words();
    const wanted = query.q.trim().toLowerCase();
    const pages = [...new Set(model.views.map(({ page }) => page))];
    const themes = model.summary.themes.map(({ name }) => name);
    const owners = index.columns.owner.names.filter((name) => name !== '-');
    const tokens = sources.tokens?.() ?? [];
    const named = (kind: SearchHit['kind'], names: readonly string[], count: (name: string) => number): readonly SearchHit[] =>
      best(names, wanted).map((name) => ({ kind, key: name, title: name, note: '', count: count(name) }));
    const open = (column: 'cause' | 'page' | 'owner' | 'theme', name: string): number => openCount(index, column, name);
    const causes = [...index.causes.values()].map((cause) => ({ cause, title: causeSubject(cause) ?? cause.layer }));
    const found = best(
      causes.map(({ title }) => title),
      wanted,
    );
    const hits: readonly SearchHit[] = [
      ...tokenHits(tokens, wanted),
      ...causes
        .filter(({ title }) => found.includes(title))
        .slice(0, OF_A_KIND)
        .map(({ cause, title }) => ({
          kind: 'cause' as const,
          key: cause.id,
          title,
          note: `${cause.layer}, ${cause.themes.join(', ')}`,
          count: open('cause', cause.id),
        })),
      ...named('page', pages, (name) => open('page', name)),
      ...named('owner', owners, (name) => open('owner', name)),
      ...named('theme', themes, (name) => open('theme', name)),
      ...colourHits(index, words, wanted),
      ...selectorHits(index, words, wanted),
      ...textHits(index, words, wanted),
    ];
    return { hits: hits.slice(0, MOST) };
  });
}

/** Those that begin with it before those that hold it, short before long. */
function best(names: readonly string[], wanted: string): readonly string[] {
  return names
    .filter((name) => name.toLowerCase().includes(wanted))
    .sort((a, b) => Number(b.toLowerCase().startsWith(wanted)) - Number(a.toLowerCase().startsWith(wanted)) || a.length - b.length)
    .slice(0, OF_A_KIND);
}

function openCount(index: FindingIndex, column: 'cause' | 'page' | 'owner' | 'theme', name: string): number {
  const { names, of } = index.columns[column];
  const code = names.indexOf(name);
  return of.reduce((sum, value, at) => sum + (value === code && isOpen(index, at) ? 1 : 0), 0);
}

interface TokenColors {
  readonly token: string;
  readonly colors: readonly string[];
}

/** By name, or by a colour they have in some theme. */
function tokenHits(tokens: readonly TokenColors[], wanted: string): readonly SearchHit[] {
  const names = best(
    tokens.map(({ token }) => token),
    wanted,
  );
  const colored = isColor(wanted) ? tokens.filter(({ colors }) => colors.includes(wanted)).slice(0, OF_A_KIND) : [];
  return [
    ...names.map((token): SearchHit => ({ kind: 'token', key: token, title: token, note: '', count: null })),
    ...colored.map(({ token }): SearchHit => ({
      kind: 'token',
      key: token,
      title: token,
      note: `is ${wanted} in a theme`,
      count: null,
    })),
  ];
}

function isColor(text: string): boolean {
  return /^#[0-9a-f]{3,8}$/.test(text);
}

function colourHits(index: FindingIndex, words: Words, wanted: string): readonly SearchHit[] {
  if (!isColor(wanted)) return [];
  const count = words.texts.reduce((sum, text, at) => sum + (text.includes(wanted) && isOpen(index, at) ? 1 : 0), 0);
  return [{ kind: 'colour', key: wanted, title: wanted, note: 'measured or painted', count }];
}

function selectorHits(index: FindingIndex, words: Words, wanted: string): readonly SearchHit[] {
  const counts = new Map<string, number>();
  for (const [at, selector] of words.selectors.entries()) {
    if (isOpen(index, at) && selector.toLowerCase().includes(wanted)) counts.set(selector, (counts.get(selector) ?? 0) + 1);
  }
  return [...counts]
    .sort((a, b) => b[1] - a[1] || a[0].length - b[0].length)
    .slice(0, OF_A_KIND)
    .map(([selector, count]) => ({ kind: 'selector', key: selector, title: selector, note: '', count }));
}

function textHits(index: FindingIndex, words: Words, wanted: string): readonly SearchHit[] {
  const count = words.texts.reduce((sum, text, at) => sum + (text.includes(wanted) && isOpen(index, at) ? 1 : 0), 0);
  if (count === 0) return [];
  return [{ kind: 'text', key: wanted, title: `“${wanted}”`, note: 'anywhere in selector, text or message', count }];
}

function isOpen(index: FindingIndex, at: number): boolean {
  return valueAt(index, 'status', at) !== 'exempt';
}
