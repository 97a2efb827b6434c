// Tokens of any type without a value of their own in a theme in which their siblings have one.
import type { TokenGraph } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import { groupOf, rampPlaces } from './definition-view.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed } from './token-fault.ts';

interface Settings {
  readonly siblingShare: number;
  readonly leastSiblings: number;
  readonly turnedShare: number;
}

export function missingOverrides(graph: TokenGraph, reference: string, settings: Settings): readonly FaultFacts[] {
  const steps = rampPlaces(graph);
  const base = new Map<string, unknown>();
  for (const path of graph.tokens.keys()) {
    const governor = steps.has(path) ? null : graph.governor(path, reference);
    if (governor !== null) base.set(path, governor);
  }
  const paths = [...base.keys()];
  const inGroup = groupsOf(paths);
  return graph.themes
    .filter((theme) => theme !== reference)
    .flatMap((theme) => {
      const here = new Map(paths.map((path) => [path, graph.governor(path, theme)]));
      const own = new Set(paths.filter((path) => here.get(path) !== null && here.get(path) !== base.get(path)));
      const ownIn = new Map([...inGroup].map(([group, members]) => [group, members.filter((path) => own.has(path)).length]));
      const turned = turnedShare(graph, paths, own, theme) >= settings.turnedShare;
      return paths
        .filter((path) => !own.has(path) && here.get(path) !== null)
        .flatMap((path) => judge({ graph, inGroup, own, ownIn, turned, theme, settings }, path));
    });
}

/** A value longer than this says little in a sentence. */
const LONGEST_SHOWN = 40;

interface Scene {
  readonly graph: TokenGraph;
  /** Group → all tokens in it, nested ones too. */
  readonly inGroup: ReadonlyMap<string, readonly string[]>;
  /** Tokens with a value of their own in the theme. */
  readonly own: ReadonlySet<string>;
  /** Group → how many of its tokens have one. */
  readonly ownIn: ReadonlyMap<string, number>;
  /** The theme turns nearly everything. */
  readonly turned: boolean;
  readonly theme: string;
  readonly settings: Settings;
}

function judge(scene: Scene, path: string): readonly FaultFacts[] {
  const { graph, inGroup, own, ownIn, turned, theme, settings } = scene;
  const group = siblingGroup(scene, path);
  if (group === null) return [];
  const [others, changes] = [(inGroup.get(group)?.length ?? 1) - 1, ownIn.get(group) ?? 0];
  const least = turned ? 1 : settings.leastSiblings;
  if (changes < least || changes < settings.siblingShare * others) return [];
  const siblings = (inGroup.get(group) ?? []).filter((other) => other !== path);
  const changed = siblings.filter((sibling) => own.has(sibling));
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

/** Its group; the nearest around that has others, when it is alone. */
function siblingGroup({ inGroup }: Scene, path: string): string | null {
  for (let group = groupOf(path); group !== ''; group = groupOf(group)) {
    if ((inGroup.get(group)?.length ?? 0) > 1) return group;
  }
  return null;
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
