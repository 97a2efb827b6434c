// Input of a resolver (modifier → context) judged against its modifiers (Resolver 2025.10, R5, R6.1).
import type { Stretch } from '../json/json-node.ts';
import type { ProblemCode, Report } from '../problem.ts';
import type { Modifier } from './resolver-document.ts';

/**
 * @param at where the document stands, for messages
 * @returns the contexts that the input names; null when it is refused (reported)
 */
export function readResolverInput(
  input: Readonly<Record<string, unknown>>,
  modifiers: ReadonlyMap<string, Modifier>,
  at: Stretch,
  report: Report,
): ReadonlyMap<string, string> | null {
  const refused: ProblemCode[] = [];
  const tell = (code: ProblemCode, found: string, expected: string, hint = ''): void => {
    refused.push(code);
    report({ code, token: '', at, found, expected, hint });
  };
  const chosen = new Map<string, string>();
  for (const [key, value] of Object.entries(input)) {
    if (typeof value !== 'string') {
      tell('input-not-string', `${key}: ${JSON.stringify(value)}`, 'the name of a context, as text');
      continue;
    }
    if (modifiers.size === 0) continue;
    const name = match(key, modifiers.keys());
    const modifier = name === null ? undefined : modifiers.get(name);
    if (name === null || modifier === undefined) {
      tell('input-unknown', `the modifier "${key}"`, `one of ${list(modifiers.keys())}`);
      continue;
    }
    const context = match(value, modifier.contexts.keys());
    if (context === null) tell('input-context', `context "${value}" for "${name}"`, `one of ${list(modifier.contexts.keys())}`);
    else chosen.set(name, context);
  }
  for (const [name, { defaultContext, contexts }] of modifiers) {
    const given = Object.keys(input).some((key) => match(key, modifiers.keys()) === name);
    if (defaultContext !== null || given) continue;
    tell(
      'input-missing',
      `no context for "${name}", which has no default`,
      `one of ${list(contexts.keys())}`,
      'Name it for the theme, or give the modifier a default.',
    );
  }
  return refused.length > 0 ? null : chosen;
}

/** Exact first, else the only one that differs in case (R5.1). */
function match(text: string, names: Iterable<string>): string | null {
  const all = [...names];
  if (all.includes(text)) return text;
  const near = all.filter((name) => name.toLowerCase() === text.toLowerCase());
  const [only] = near;
  return near.length === 1 && only !== undefined ? only : null;
}

function list(names: Iterable<string>): string {
  return [...names].map((name) => `"${name}"`).join(', ');
}
