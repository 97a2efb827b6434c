// Tokens of any type without a value of their own in a theme in which their siblings have one.
import type { TokenGraph } from '../graph.ts';
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
  return graph.themes
    .filter((theme) => theme !== reference)
    .flatMap((theme) => {
      const own = new Set(paths.filter((path) => isOverridden(graph, path, theme, base)));
      return paths
        .filter((path) => !own.has(path) && graph.declarationsOf(path, theme).length > 0)
        .flatMap((path) => judge({ graph, paths, own, theme, settings }, path));
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
  readonly paths: readonly string[];
  /** Tokens with a value of their own in the theme. */
  readonly own: ReadonlySet<string>;
  readonly theme: string;
  readonly settings: Settings;
}

function judge(scene: Scene, path: string): readonly FaultFacts[] {
  const { graph, own, theme, settings } = scene;
  const siblings = siblingsOf(scene, path);
  const changed = siblings.filter((sibling) => own.has(sibling));
  const turned = turnedShare(scene) >= settings.turnedShare;
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
function siblingsOf({ paths }: Scene, path: string): readonly string[] {
  for (let group = groupOf(path); group !== ''; group = groupOf(group)) {
    const inside = paths.filter((other) => other !== path && other.startsWith(group) && /^[.-]/.test(other.slice(group.length)));
    if (inside.length > 0) return inside;
  }
  return [];
}

function turnedShare({ graph, paths, own, theme }: Scene): number {
  const colors = paths.filter((path) => graph.colorOf(path, theme) !== null);
  return colors.length === 0 ? 0 : colors.filter((path) => own.has(path)).length / colors.length;
}
