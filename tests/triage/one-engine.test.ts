import { expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Paint } from '../../src/samples/paint.ts';
import { matchLiteral } from '../../src/tokens/match/match-literal.ts';
import { gatherRoles } from '../../src/tokens/roles.ts';
import { graphOfTable } from '../../src/triage/tokens/graph-of-table.ts';
import { openTokenUses } from '../../src/triage/tokens/token-uses.ts';
import { paintApp } from './paint-app.ts';
import type { Kind } from './plant-faults.ts';
import { plantOne } from './plant-faults.ts';
import { triageApp } from './triage-app.ts';

// Derived: the literal was put in. What a run says of it and what `match` says of it go by the same samples and the same measure.

const LITERALS: readonly Kind[] = ['grey', 'frozen ink'];

test.each(LITERALS.flatMap((kind) => [1, 3].map((seed) => [kind, seed] as const)))(
  'of one literal, the cause and the first suggestion are one token: %s, seed %i',
  (kind, seed) => {
    const { app } = plantOne(kind, seed);
    const painted = paintApp(app);
    const [cause] = triageApp(app, painted).causes;
    const repair = cause?.cause.repair;
    expect(repair?.change).toBe('use');
    const tokensOf = new Map(app.table.tokens.flatMap(({ path, properties }) => properties.map((name) => [name, [path]] as const)));
    const uses = openTokenUses(tokensOf, { level: 'AA', exempt: [], today: '2031-05-04' });
    for (const { view, samples } of painted.views) uses.add(view, samples);
    const { pairs, uses: met } = uses.close();
    const sample = painted.views
      .flatMap(({ samples }) => samples)
      .find((each) => each.kind === 'text' && each.selector === repair?.of);
    const beneath = sample?.kind === 'text' ? pathOf(sample.layers.at(-1)?.paint) : undefined;
    const found = matchLiteral({
      graph: graphOfTable(app.table),
      literal: parseColor(repair?.from ?? ''),
      role: 'ink',
      theme: app.table.themes[app.table.reference]?.name ?? '',
      roles: gatherRoles(met),
      pairs,
      ...(beneath === undefined ? {} : { partner: { kind: 'token', path: beneath } }),
    });
    expect(found.matches[0]?.token).toBe(repair?.to);

    function pathOf(paint: Paint | undefined): string | undefined {
      return paint?.origin.kind === 'token' ? tokensOf.get(paint.origin.property)?.[0] : undefined;
    }
  },
);
