// Changed declarations of tokens → the texts of their files, as they would be.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Configuration } from '../../plan/configuration.ts';
import { addToken } from '../../tokens/add-token.ts';
import type { ValueEdit } from '../../tokens/rewrite-values.ts';
import { rewriteValues } from '../../tokens/rewrite-values.ts';
import type { Declared } from '../../triage/tokens/token-table.ts';

export interface RewrittenFile {
  /** Relative to the configuration's folder. */
  readonly file: string;
  readonly before: string;
  readonly text: string;
}

/** @param edits `token`: its path, for what is said of it, and for its name where it is new: declared behind `beside` */
export function rewriteTokens(
  configuration: Configuration,
  edits: readonly {
    readonly token: string;
    readonly declared: Declared;
    readonly to: ValueEdit['to'];
    readonly beside?: Declared;
  }[],
): { readonly files: readonly RewrittenFile[]; readonly left: readonly string[] } {
  const byFile = new Map<string, ValueEdit[]>();
  const added = new Map<string, { readonly pointer: string; readonly name: string }[]>();
  const left: string[] = [];
  for (const { token, declared, to, beside } of edits) {
    const { file, pointer } = declared;
    if (file === undefined || pointer === undefined) {
      left.push(`${token} is declared in no token file`);
      continue;
    }
    byFile.set(file, [...(byFile.get(file) ?? []), { pointer, to }]);
    if (beside?.pointer !== undefined)
      added.set(file, [...(added.get(file) ?? []), { pointer: beside.pointer, name: token.slice(token.lastIndexOf('.') + 1) }]);
  }
  const files = [...byFile].map(([file, own]) => {
    const before = readFileSync(path.resolve(configuration.folder, file), 'utf8');
    const grown = (added.get(file) ?? []).reduce((text, one) => addToken(file, text, one) ?? text, before);
    const made = rewriteValues(file, grown, own);
    left.push(...made.left.map(({ pointer, why }) => `${file}${pointer}: ${why}`));
    return { file, before, text: made.text };
  });
  return { files, left };
}
