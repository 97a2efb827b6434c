// What the token files say of one token in every theme: value, chain, ramp, who refers to it.
import type { TokenFacts } from '../../report-ui/server/sources.ts';
import type { TokenTheme } from '../../report-ui/api/token.ts';
import { toCssText } from '../colour/format-color.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import type { Painted } from './painted-places.ts';

/** @returns null where no theme has the token */
export function tokenFacts(graph: TokenGraph, token: string, painted: Painted | null): TokenFacts | null {
  if (!graph.tokens.has(token)) return null;
  const themes = graph.themes.map((theme) => themeOf(graph, token, theme, painted));
  const ramp = graph.ramps.find(({ steps }) => themes.some(({ step }) => step !== null && steps.includes(step)));
  return {
    ramp: ramp?.family ?? null,
    themes,
    users: graph.users(token),
    places: graph.themes.flatMap((theme) => painted?.of.get(`${theme} ${token}`)?.first ?? []),
  };
}

function themeOf(graph: TokenGraph, token: string, theme: string, painted: Painted | null): TokenTheme {
  const resolution = graph.resolve(token, theme);
  const color = graph.colorOf(token, theme);
  const step = graph.stepOf(token, theme);
  const ramp = step === null ? undefined : graph.ramps.find(({ steps }) => steps.includes(step));
  return {
    theme,
    color: color === null ? null : toCssText(color),
    value: valueWords(resolution),
    chain:
      resolution.kind === 'absent' ? [] : resolution.chain.map((hop) => ({ token: hop.token, file: hop.file, line: hop.line })),
    steps: (ramp?.steps ?? []).flatMap((path) => {
      const shown = graph.colorOf(path, theme);
      const name = path.slice(ramp?.family.length ?? 0).replace(/^\./, '');
      return shown === null ? [] : [{ token: path, name: name === '' ? path : name, color: toCssText(shown) }];
    }),
    step: ramp === undefined ? null : step,
    painted: painted === null ? null : (painted.of.get(`${theme} ${token}`)?.count ?? 0),
  };
}

function valueWords(resolution: ReturnType<TokenGraph['resolve']>): string {
  switch (resolution.kind) {
    case 'value':
      return resolution.value.type === 'text' ? resolution.value.value : resolution.value.type;
    case 'invalid':
      return resolution.problems.map(({ found, expected }) => `found ${found}; expected ${expected}`).join(' ');
    case 'absent':
      return 'not in this theme';
  }
}
