// What a nightly job needs: one command for all of it, a limit of time that says what was left out, and counts against another run.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { gloam, quayApp } from './gloam.ts';

interface Told {
  readonly run: { readonly id: string; readonly totals: { readonly views: number } };
  readonly leftOut: readonly string[];
  readonly since: { readonly run: string; readonly new: number; readonly known: number; readonly gone: number } | null;
}

function edit(folder: string, file: string, from: string, to: string): void {
  const place = path.join(folder, file);
  const text = readFileSync(place, 'utf8');
  expect(text).toContain(from);
  writeFileSync(place, text.replace(from, to));
}

describe('a run whose time is over', () => {
  test('starts with what was faulty before, says what it left out, and is finished by --resume', async () => {
    const pages = [
      '/',
      ...Array.from({ length: 6 }, (_, i) => ({ path: `/board.html?n=${String(i)}`, name: `board${String(i)}` })),
    ];
    const folder = quayApp({ pages: [...pages, { path: '/gone.html', name: 'gone' }] });
    // One second is over before the plan is done; the whole of it is planned all the same.
    const cut = await gloam(folder, 'run', '--within', '1s', '--workers', '1', '--json');
    const told = JSON.parse(cut.stdout) as Told;
    expect(cut.code).toBe(3);
    expect(told.run.totals.views).toBe(16);
    expect(told.leftOut.length).toBeGreaterThan(2);

    const gate = await gloam(folder, 'gate', '--theme', 'dusk');
    expect(gate.stdout).toMatch(/\d+ views not rendered/);
    expect(gate.code).toBe(1);

    const resumed = await gloam(folder, 'run', '--resume', '--json');
    const whole = JSON.parse(resumed.stdout) as Told;
    expect(whole.run.id).toBe(told.run.id);
    expect(whole.leftOut).toEqual([]);
    // The page that is not there.
    expect(resumed.code).toBe(3);

    const next = await gloam(folder, 'run', '--within', '1s', '--workers', '1');
    expect(next.stdout).toMatch(/\d+ views left out, the time was over; gloam run --resume goes on with them:\n {2}\S+/);
    // What failed last time comes first, however far the second reached.
    expect(next.stdout).toMatch(/(?:could not be captured|goes on with them):\n {2}gone@/);
    const wrong = await gloam(folder, 'run', '--within', 'soon');
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain('Expected a time such as 90s, 30m or 1h30m.');
  });
});

describe('gloam night', () => {
  test('runs, judges, writes the forms, drops old runs; fails for what is new only, and counts what is gone', async () => {
    const folder = quayApp({ gate: { '*': { 'text-contrast': 0 } }, night: { forms: 'out', keep: 2 } });
    const first = await gloam(folder, 'night');
    expect(first.stderr).not.toContain('gloam:');
    // Nothing to compare with: every finding counts.
    expect(first.code).toBe(1);
    expect(first.stdout).toContain('1 finding, 1 new; there is no run before');
    expect(existsSync(path.join(folder, 'out/gate.junit.xml'))).toBe(true);

    const second = await gloam(folder, 'night');
    expect(second.code).toBe(0);
    expect(second.stdout).toMatch(/1 finding, 0 new, 1 known, 0 gone since run \S+/);

    // A run of one page in between is no night: the next one is held against what each view had.
    const part = await gloam(folder, 'run', '--page', 'board', '--json');
    expect(part.code).toBe(0);
    const { id: narrowed } = (JSON.parse(part.stdout) as Told).run;
    const { id: last } = (
      JSON.parse((await gloam(folder, 'runs', '--json')).stdout) as { readonly id: string; readonly narrowed: boolean }[]
    ).find((run) => !run.narrowed) ?? { id: 'none' };
    // Nor does any command that names no run speak of it; each says that it is there.
    for (const args of [['gate', '--since', 'previous'], ['export'], ['explain'], ['exempt']]) {
      const said = await gloam(folder, ...args);
      expect(said.stderr).toContain(
        `Of run ${last}, the last whole one. Run ${narrowed} is newer but was narrowed to some views: --run ${narrowed} asks`,
      );
      expect(said.code, said.stderr).toBe(0);
    }
    expect(JSON.parse(readFileSync(path.join(folder, 'gloam-export/run.json'), 'utf8'))).toMatchObject({ id: last });
    const asked = await gloam(folder, 'gate', '--run', narrowed);
    expect(asked.stdout).toContain('The run was narrowed');
    expect(asked.stderr).not.toContain('newer');
    const after = await gloam(folder, 'night', '--json');
    expect(after.code).toBe(0);
    expect((JSON.parse(after.stdout) as { readonly run: Told }).run.since).toMatchObject({ new: 0, known: 1, gone: 0 });

    edit(folder, 'site/board.html', '<p>', '<p style="color:#a9a9a9">');
    const third = await gloam(folder, 'night', '--json');
    const told = JSON.parse(third.stdout) as {
      readonly run: Told;
      readonly gate: { readonly may: boolean };
      readonly pruned: { readonly dropped: readonly string[] };
      readonly code: number;
    };
    expect(third.code).toBe(1);
    expect(told.code).toBe(1);
    expect(told.run.since).toMatchObject({ known: 1, gone: 0 });
    expect(told.run.since?.new).toBeGreaterThan(0);
    expect(told.gate.may).toBe(false);
    expect(told.pruned.dropped).toHaveLength(1);

    // One mended, and the run before the last named.
    edit(folder, 'site/index.html', 'color:#999', 'color:#555');
    const base = told.run.since?.run ?? '';
    const fourth = await gloam(folder, 'night', '--no-gate', '--since', base, '--json');
    expect(fourth.code).toBe(0);
    const ungated = JSON.parse(fourth.stdout) as { readonly run: Told; readonly gate?: unknown };
    expect(ungated.gate).toBeUndefined();
    expect(ungated.run.since).toEqual({ run: base, runs: [base], new: told.run.since?.new, known: 0, gone: 1 });
  });
});
