// Pages on two CSS frameworks with dark themes: every repair that gloam prints is put into the style sheets by hand's work alone (the
// words of the repair, no knowledge of triage), the pages are rendered again, and what went away is held against what was promised.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { toCssText } from '../src/colour/format-color.ts';
import { findColor } from '../src/colour/parse-color.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import type { Cause, Finding, Repair, RepairPart } from '../src/samples/finding.ts';
import type { Framework } from './framework-app.ts';
import { FRAMEWORKS, fillWith, installFrameworks } from './framework-app.ts';
import { nightOn } from './harbour-night.ts';

interface Told {
  readonly findings: readonly Finding[];
  readonly causes: readonly Cause[];
}

export async function frameworks(): Promise<void> {
  const home = installFrameworks();
  let [kept, all] = [0, 0];
  for (const framework of FRAMEWORKS) {
    const app = pagesOn(framework, home);
    const before = await look(app);
    console.log(`${framework.name}: ${before.findings.length} findings, ${before.causes.length} causes`);
    for (const cause of before.causes) {
      const { repair } = cause;
      if (repair === undefined || repair.change === 'add') {
        console.log(`  –  ${cause.layer}: ${cause.why.slice(0, 100)}`);
        continue;
      }
      const changed = pagesOn(framework, home);
      const sheets = ['framework.css', 'app.css'].map((name) => path.join(changed, 'site', name));
      const missed = putIn(sheets, repair);
      const after = await look(changed);
      const left = new Set(after.findings.map(({ id }) => id));
      const known = new Set(before.findings.map(({ id }) => id));
      const own = before.findings.filter((finding) => finding.cause === cause.id);
      const mended = own.filter(({ id }) => !left.has(id)).length;
      const broken = after.findings.filter(({ id }) => !known.has(id));
      const holds = mended >= repair.fixes && broken.length <= repair.breaks && missed.length === 0;
      all += 1;
      if (holds) kept += 1;
      console.log(
        `  ${holds ? '+' : '!'}  mends ${mended} of ${repair.fixes}, breaks ${broken.length}: ${cause.why.slice(0, 100)}`,
      );
      for (const each of missed) console.log(`       not found: ${each.from} in ${each.of}`);
      for (const { selector, theme, message } of broken.slice(0, 3)) console.log(`       ${theme} ${selector}: ${message}`);
      rmSync(changed, { recursive: true, force: true });
    }
    rmSync(app, { recursive: true, force: true });
  }
  console.log(`${kept} of ${all} repairs do what they say`);
}

function pagesOn(framework: Framework, home: string): string {
  const folder = mkdtempSync(path.join(tmpdir(), `gloam-on-${framework.name}-`));
  fillWith(framework, home, folder);
  return folder;
}

async function look(folder: string): Promise<Told> {
  const store = path.join(folder, '.gloam');
  await nightOn(path.join(folder, 'gloam.config.json'), store);
  await using ledger = await openLedger(store, { access: 'read' });
  const run = (await ledger.latestRun())?.id ?? '';
  const { items } = await ledger.findings(run, { limit: 500 });
  return { findings: items, causes: await ledger.causes(run) };
}

/** As somebody would who reads the lines one after the other. @returns parts for which no declaration was found */
function putIn(files: readonly string[], repair: Repair): readonly RepairPart[] {
  if (repair.change === 'value' || repair.change === 'alias') {
    const to = repair.change === 'alias' ? `var(${repair.to})` : repair.to;
    return edit(files, (_, property, value) => (property === repair.of && isSame(value, repair.from) ? to : null)) > 0
      ? []
      : [repair];
  }
  return [repair, ...(repair.also ?? [])].filter((part) => {
    const { what, rule, place: at } = (part.change === 'use' ? part.drawn : undefined) ?? { place: part.of };
    const isInk = what !== undefined;
    const by = `var(${part.to})`;
    const own = files.at(-1);
    const property = what === 'surface' ? 'background-color' : 'color';
    // “text on .card”: of the rule itself, or of what is in it.
    const isThere = (selector: string): boolean => selector === at || (isInk && selector.includes(at));
    if (rule !== undefined && own !== undefined) {
      const drawn = rule.split(',').map((each) => `${at} ${each.trim()}`);
      writeFileSync(own, `${readFileSync(own, 'utf8')}\n${drawn.join(', ')} { ${property}: ${by}; }\n`);
      return false;
    }
    const found = edit(files, (selector, _, value) => (isThere(selector) ? replaced(value, part.from, by) : null));
    if (found > 0) return false;
    if (!isInk || own === undefined) return true;
    writeFileSync(own, `${readFileSync(own, 'utf8')}\n${at} { ${property}: ${by}; }\n`);
    return false;
  });
}

function replaced(value: string, from: string, by: string): string | null {
  const literal = /#[\da-f]{3,8}\b|\brgba?\([^()]*\)/iu;
  const [found] = literal.exec(value) ?? [];
  if (found !== undefined && isSame(found, from)) return value.replace(found, by);
  if (isSame(value, from)) return by;
  // What is set to another property's channels (`rgba(var(--x-rgb), …)`) is written anew.
  return /-rgb\)/u.test(value) ? by : null;
}

function isSame(one: string, other: string): boolean {
  const [a, b] = [findColor(one.trim()), findColor(other)];
  return a !== null && b !== null ? toCssText(a) === toCssText(b) : one.trim() === other || one.trim() === `var(${other})`;
}

/** @returns how many declarations were changed */
function edit(files: readonly string[], change: (selector: string, property: string, value: string) => string | null): number {
  let count = 0;
  for (const file of files) {
    const text = readFileSync(file, 'utf8').replace(/([^{}]+)\{([^{}]*)\}/gu, (rule: string, head: string, body: string) => {
      const selector = head
        .replace(/\/\*.*?\*\//gsu, '')
        .trim()
        .replace(/\s+/gu, ' ');
      const lines = body.replace(
        /(?<before>^|;)(?<space>\s*)(?<property>[\w-]+)\s*:\s*(?<value>[^;]+)/gu,
        (...found: unknown[]) => {
          const { before = '', space = '', property = '', value = '' } = found.at(-1) as Readonly<Record<string, string>>;
          const important = /\s*!important\s*$/u.exec(value)?.[0] ?? '';
          const next = change(selector, property, value.slice(0, value.length - important.length));
          if (next === null) return String(found[0]);
          count += 1;
          return `${before}${space}${property}: ${next}${important}`;
        },
      );
      return lines === body ? rule : `${head}{${lines}}`;
    });
    writeFileSync(file, text);
  }
  return count;
}
