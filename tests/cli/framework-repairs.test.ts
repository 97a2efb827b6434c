// Pages on two CSS frameworks with dark themes and faults planted in them (bench/frameworks): what gloam exports as repairs is put into the
// style sheets literally, all of it at once, and the pages are rendered again.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Framework } from '../../bench/framework-app.ts';
import { FRAMEWORKS, fillWith, sheetsOf } from '../../bench/framework-app.ts';
import { putIn } from '../../bench/put-in.ts';
import type { Cause, Finding, Repair } from '../../src/samples/finding.ts';
import { explainLines } from '../../src/triage/tell/explain-lines.ts';
import { gloam } from './gloam.ts';

/** Of what is planted, by whom it is told and by which kind of change it is mended: derived from how it is written in `app.css`. */
const PLANTED: Readonly<Record<string, readonly (readonly [of: string, change: Repair['change']])[]>> = {
  bootstrap: [
    ['--board-tide', 'alias'],
    ['hsl(var(--level-hue) 60% var(--level-light))', 'value'],
    ['--surge-rgb', 'value'],
    ['.lamp', 'style'],
    ['.legend', 'use'],
    ['.station', 'use'],
    ['.callout', 'use'],
  ],
  pico: [
    ['--board-tide', 'value'],
    ['hsl(var(--level-hue) 60% var(--level-light))', 'value'],
    ['--surge-rgb', 'value'],
    ['.lamp', 'style'],
    ['.legend', 'use'],
    ['.station', 'use'],
    ['.trend', 'use'],
    ['.callout', 'use'],
  ],
};

interface Told {
  readonly folder: string;
  readonly findings: readonly Finding[];
  readonly causes: readonly Cause[];
}

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** Renders the pages with some repairs put in. */
async function look(framework: Framework, repairs: readonly Repair[]): Promise<Told> {
  const folder = mkdtempSync(path.join(tmpdir(), `gloam-on-${framework.name}-`));
  folders.push(folder);
  fillWith(framework, folder);
  const missed = repairs.flatMap((repair) => putIn(sheetsOf(framework, folder), repair));
  expect(missed, 'parts of repairs whose declaration is nowhere').toEqual([]);
  const { code, stderr } = await gloam(folder, 'run', '--export', 'out');
  expect(code, stderr).toBe(0);
  return { folder, findings: rows(folder, 'findings') as Finding[], causes: rows(folder, 'causes') as Cause[] };
}

function rows(folder: string, name: string): readonly unknown[] {
  const text = readFileSync(path.join(folder, 'out', `${name}.ndjson`), 'utf8');
  return text.split('\n').flatMap((line) => (line === '' ? [] : [JSON.parse(line) as unknown]));
}

function repairsOf({ causes }: Told): readonly { readonly cause: Cause; readonly repair: Repair }[] {
  return causes.flatMap((cause) =>
    cause.repair === undefined || cause.repair.change === 'add' ? [] : [{ cause, repair: cause.repair }],
  );
}

function firstPartOf({ also: _, ...first }: Repair): Repair {
  return first;
}

/** Repairs after which less is gone than they say. */
function unkept(before: Told, after: Told): readonly string[] {
  const left = new Set(after.findings.map(({ id }) => id));
  return repairsOf(before).flatMap(({ cause, repair }) => {
    const own = before.findings.filter((finding) => finding.cause === cause.id);
    const mended = own.filter(({ id }) => !left.has(id)).length;
    return mended >= repair.fixes ? [] : [`mends ${mended} of ${repair.fixes}: ${cause.why}`];
  });
}

/** What was not wrong before, at places that no repair names among those it breaks. */
function unsaidBreaks(before: Told, after: Told): readonly string[] {
  const known = new Set(before.findings.map(({ id }) => id));
  const said = repairsOf(before).flatMap(({ cause, repair }) => (repair.breaks > 0 ? [cause.why] : []));
  return after.findings
    .filter(({ id, selector }) => !known.has(id) && !said.some((why) => why.includes(`(${selector})`)))
    .map(({ theme, selector, message }) => `${theme} ${selector}: ${message}`);
}

describe.concurrent.each(FRAMEWORKS)('on $name', { timeout: 240_000 }, (framework) => {
  let looked: Promise<Told> | undefined;
  const first = (): Promise<Told> => (looked ??= look(framework, []));

  test('what is planted is told, with a repair of its kind that breaks nothing', async () => {
    const told = repairsOf(await first()).map(({ repair: { of, change, breaks } }) => [of, change, breaks]);
    for (const [of, change] of PLANTED[framework.name] ?? []) expect(told).toContainEqual([of, change, 0]);
  });

  test('every part of an exported repair has a line in print', async () => {
    const all = repairsOf(await first());
    for (const { cause, repair } of all) {
      const lines = explainLines(cause).flatMap(({ kind, text }) => (kind === 'repair' ? [text] : []));
      const parts = [repair, ...(repair.also ?? [])];
      expect(lines).toHaveLength(parts.length + (repair.after?.length ?? 0));
      for (const [at, part] of parts.entries()) {
        const components = part.change === 'value' ? (part.components ?? []) : [];
        const words = [part.of, part.from, part.to, ...components.flatMap(({ property, from, to }) => [property, from, to])];
        for (const word of words) expect(lines[at], cause.why).toContain(word);
      }
    }
    const [longest] = all.toSorted((one, other) => (other.repair.also?.length ?? 0) - (one.repair.also?.length ?? 0));
    if (longest === undefined) throw new Error('there are repairs');
    const { stdout } = await gloam((await first()).folder, 'explain', longest.cause.id);
    for (const { text } of explainLines(longest.cause)) expect(stdout.replace(/\s+/gu, ' ')).toContain(text);
  });

  test('every repair put in literally mends what it says and breaks no more', async () => {
    const before = await first();
    const repairs = repairsOf(before).map(({ repair }) => repair);
    const after = await look(framework, repairs);
    expect(unkept(before, after)).toEqual([]);
    expect(unsaidBreaks(before, after)).toEqual([]);
  });

  // Without it the test above could not tell a repair from half of one.
  test('repairs of several parts, put in without all but the first, leave faults behind', async () => {
    const before = await first();
    const repairs = repairsOf(before).map(({ repair }) => repair);
    const after = await look(framework, repairs.map(firstPartOf));
    const several = repairs.filter(({ also = [] }) => also.length > 0);
    expect(several.length).toBeGreaterThan(1);
    const faults = [...unkept(before, after), ...unsaidBreaks(before, after)];
    expect(faults.length, faults.join('\n')).toBeGreaterThanOrEqual(several.length);
  });
});
