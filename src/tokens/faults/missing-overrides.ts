// Tokens of any type without a value of their own in a theme in which their siblings have one.
import type { TokenGraph } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import { declaredAt, groupOf, rampPlaces } from './definition-view.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed } from './token-fault.ts';

interface Settings {
  readonly siblingShare: number;
  readonly leastSiblings: number;
  readonly turnedShare: number;
}

export function missingOverrides(graph: TokenGraph, reference: string, settings: Settings): readonly FaultFacts[] {
  const steps = rampPlaces(graph);
  const paths = [...graph.tokens.keys()].filter((path) => !steps.has(path) && graph.declarationsOf(path, reference).length > 0);
  const base = new Map(paths.map((path) => [path, declaredAt(graph.declarationsOf(path, reference))]));
  const inGroup = groupsOf(paths);
  return graph.themes
    .filter((theme) => theme !== reference)
    .flatMap((theme) => {
      const own = new Set(paths.filter((path) => isOverridden(graph, path, theme, base)));
      const turned = turnedShare(graph, paths, own, theme) >= settings.turnedShare;
      return paths
        .filter((path) => !own.has(path) && graph.declarationsOf(path, theme).length > 0)
        .flatMap((path) => judge({ graph, inGroup, own, turned, theme, settings }, path));
    });
}

function isOverridden(graph: TokenGraph, path: string, theme: string, base: ReadonlyMap<string, string>): boolean {
  const here = declaredAt(graph.declarationsOf(path, theme));
  return here !== '' && here !== base.get(path);
}

/** A value longer than this says little in a sentence. */
const LONGEST_SHOWN = 40;

interface Scene {
  readonly graph: TokenGraph;
  /** Group → all tokens in it, nested ones too. */
  readonly inGroup: ReadonlyMap<string, readonly string[]>;
  /** Tokens with a value of their own in the theme. */
  readonly own: ReadonlySet<string>;
  /** The theme turns nearly everything. */
  readonly turned: boolean;
  readonly theme: string;
  readonly settings: Settings;
}

function judge(scene: Scene, path: string): readonly FaultFacts[] {
  const { graph, own, turned, theme, settings } = scene;
  const siblings = siblingsOf(scene, path);
  const changed = siblings.filter((sibling) => own.has(sibling));
  const least = turned ? 1 : settings.leastSiblings;
  if (changed.length < least || changed.length < settings.siblingShare * siblings.length) return [];
  const sure = turned && changed.length >= settings.leastSiblings;
  const raw = graph.declarationsOf(path, theme).at(-1)?.raw ?? '';
  const keeps = raw.length <= LONGEST_SHOWN ? raw : 'its value';
  const who =
    siblings.length === 1
      ? `its sibling ${changed.join('')} has one`
      : `${String(changed.length)} of its ${String(siblings.length)} siblings have one (${listed(changed)})`;
  return [
    {
      code: 'override-missing',
      level: sure ? 'warning' : 'note',
      token: path,
      others: changed,
      themes: [theme],
      measured: { keeps, siblingsOverridden: changed.length },
      expected: { siblings: siblings.length },
      message: `${path} has no value of its own in ${theme} and keeps ${keeps}, though ${who}.`,
    },
  ];
}

/** Tokens of its group; of the nearest group around that has others, when it is alone. */
function siblingsOf({ inGroup }: Scene, path: string): readonly string[] {
  for (let group = groupOf(path); group !== ''; group = groupOf(group)) {
    const inside = inGroup.get(group) ?? [];
    if (inside.length > 1) return inside.filter((other) => other !== path);
  }
  return [];
}

function groupsOf(paths: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const pairs = paths.flatMap((path) => {
    const groups: { group: string; path: string }[] = [];
    for (let group = groupOf(path); group !== ''; group = groupOf(group)) groups.push({ group, path });
    return groups;
  });
  return new Map(
    [...groupBy(pairs, ({ group }) => group)].map(([group, members]) => [group, members.map((member) => member.path)]),
  );
}

function turnedShare(graph: TokenGraph, paths: readonly string[], own: ReadonlySet<string>, theme: string): number {
  const colors = paths.filter((path) => graph.colorOf(path, theme) !== null);
  return colors.length === 0 ? 0 : colors.filter((path) => own.has(path)).length / colors.length;
}
