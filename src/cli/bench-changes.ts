// A proposal as the bench writes it → what it does to the token files.
import { wrongUse } from '../errors/command-errors.ts';
import type { ProposedChange } from '../forecast/proposal.ts';
import { grownTable, readChange } from '../forecast/proposal.ts';
import { readTokens } from '../config/read-tokens.ts';
import type { Configuration } from '../plan/configuration.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import { tableOfFiles } from './run/explain-run.ts';
import type { RewrittenFile } from './run/rewrite-tokens.ts';
import { rewriteTokens } from './run/rewrite-tokens.ts';

/** @throws wrong-use */
export function readChanges(text: string): readonly ProposedChange[] {
  const fault = wrongUse(
    `changes: found ${text.slice(0, 80)}; expected [[token, theme, colour or {token}], …] as JSON.`,
    'The bench writes it.',
  );
  let parsed: unknown;
  try {
    parsed = JSON.parse(text === '' ? '[]' : text);
  } catch {
    throw fault;
  }
  if (!Array.isArray(parsed)) throw fault;
  return parsed.map((each: unknown): ProposedChange => {
    const [token, theme, to, beside] = Array.isArray(each) ? each.map(String) : [];
    if (token === undefined || theme === undefined || to === undefined) throw fault;
    return { token, theme, to, ...(beside === undefined ? {} : { beside }) };
  });
}

/** @returns changed files; changes that no file holds, in words */
export function filesUnder(
  configuration: Configuration,
  changes: readonly ProposedChange[],
): { readonly files: readonly RewrittenFile[]; readonly left: readonly string[] } {
  const tokens = readTokens(configuration);
  if (tokens === null) return { files: [], left: ['no token files are configured'] };
  const now = indexTable(tableOfFiles(configuration, tokens));
  const index = indexTable(grownTable(now, changes));
  const left: string[] = [];
  const edits = changes.flatMap((change) => {
    const definition = index.definitionOf(index.themeAt(change.theme), index.tokenAt(change.token));
    const then = readChange(change);
    if (definition === null || then === null) {
      left.push(
        `${change.token} in ${change.theme}: ${definition === null ? 'there is no such token' : `${change.to} is no colour and no {token}`}`,
      );
      return [];
    }
    const to =
      then.kind === 'literal' ? ({ kind: 'color', color: then.color } as const) : ({ kind: 'alias', path: then.target } as const);
    const { token, theme, beside } = change;
    const next = beside === undefined ? null : now.definitionOf(now.themeAt(theme), now.tokenAt(beside));
    return [{ token, declared: definition.declared, to, ...(next === null ? {} : { beside: next.declared }) }];
  });
  const made = rewriteTokens(configuration, edits);
  return { files: made.files, left: [...left, ...made.left] };
}
