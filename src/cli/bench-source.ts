// What the bench of the report needs: a run's cases, packed, and a proposal as a patch of the token files.
import type { BenchPatch } from '../../report-ui/api/bench.ts';
import type { ReportSources } from '../../report-ui/server/sources.ts';
import { readTokens } from '../config/read-tokens.ts';
import { wrongUse } from '../errors/command-errors.ts';
import { packCases } from '../forecast/packed-cases.ts';
import type { ProposedChange } from '../forecast/proposal.ts';
import { readChange } from '../forecast/proposal.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { Configuration } from '../plan/configuration.ts';
import { linePatch } from '../tokens/line-patch.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import { activeChecks, storedFacts, tableOfFiles, worldOfRun } from './run/explain-run.ts';
import { rewriteTokens } from './run/rewrite-tokens.ts';

export function benchSource(configuration: Configuration, store: string): NonNullable<ReportSources['bench']> {
  // Every sample of the run is read for it.
  const kept = new Map<string, Promise<string>>();
  const pack = async (run: string): Promise<string> => {
    const ledger = await openLedger(store, { access: 'read' });
    try {
      const today = (await ledger.run(run)).startedAt.slice(0, 10);
      const tokens = readTokens(configuration);
      const world = await worldOfRun({ facts: storedFacts(ledger, run), configuration, tokens, pages: [], today });
      const checks = [...activeChecks(configuration)].map(([id, { options }]) => [id, options] as const);
      return JSON.stringify(packCases(world, checks));
    } finally {
      await ledger.close();
    }
  };
  return {
    cases: (run) => {
      const known = kept.get(run) ?? pack(run);
      kept.set(run, known);
      known.catch(() => kept.delete(run));
      return known;
    },
    patch: (changes) => Promise.resolve(patchOf(configuration, readChanges(changes))),
  };
}

function readChanges(text: string): readonly ProposedChange[] {
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
    const [token, theme, to] = Array.isArray(each) ? each.map(String) : [];
    if (token === undefined || theme === undefined || to === undefined) throw fault;
    return { token, theme, to };
  });
}

function patchOf(configuration: Configuration, changes: readonly ProposedChange[]): BenchPatch {
  const tokens = readTokens(configuration);
  if (tokens === null) return { patch: '', left: ['no token files are configured'] };
  const index = indexTable(tableOfFiles(configuration, tokens));
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
    return [{ token: change.token, declared: definition.declared, to }];
  });
  const made = rewriteTokens(configuration, edits);
  return {
    patch: made.files.map(({ file, before, text }) => linePatch(file, before, text)).join(''),
    left: [...left, ...made.left],
  };
}
