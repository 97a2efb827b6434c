// The fence between parts stands: it sees every source file, finds nothing wrong, and each of its rules fires on a planted violation.
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { cruise } from 'dependency-cruiser';
import type { ICruiseOptions, ICruiseResult, IForbiddenRuleType } from 'dependency-cruiser';
import { afterAll, describe, expect, test } from 'vitest';

const root = path.resolve(import.meta.dirname, '..');
const PARTS = ['src', 'runner', 'report-ui'];
/** Settings are plain JavaScript, so their shape is stated here. */
interface Settings {
  readonly forbidden: readonly (IForbiddenRuleType & { readonly name: string })[];
  readonly options: object;
}
const { default: settings } = (await import(path.join(root, '.dependency-cruiser.mjs'))) as { readonly default: Settings };
const rules = settings.forbidden;
const planted = mkdtempSync(path.join(tmpdir(), 'gloam-fence-'));

afterAll(() => {
  rmSync(planted, { recursive: true, force: true });
});

async function look(baseDir: string, folders: string[]): Promise<ICruiseResult> {
  const options = { ...settings.options, baseDir, validate: true, ruleSet: { forbidden: rules } } as unknown as ICruiseOptions;
  const { output } = await cruise(folders, options);
  if (typeof output === 'string') throw new Error(output);
  return output;
}

function sourceFiles(folder: string): readonly string[] {
  return readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name));
}

describe('the fence between parts', () => {
  test('sees every source file and finds nothing wrong', { timeout: 120_000 }, async () => {
    const { modules, summary } = await look(root, PARTS);
    const sources = PARTS.flatMap(sourceFiles);
    expect(modules.length).toBeGreaterThanOrEqual(sources.length);
    expect(summary.violations.map((v) => `${v.rule.name}: ${v.from} → ${v.to}`)).toEqual([]);
  });

  // For each rule, files that break it and nothing else is needed.
  const violations: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    'no-cycles': { 'src/colour/tide.ts': "import './ebb.ts';", 'src/colour/ebb.ts': "import './tide.ts';" },
    'page-types-only': {
      'runner/page/tide.ts': "import { ebb } from '../../src/samples/ebb.ts'; ebb();",
      'src/samples/ebb.ts': 'export const ebb = () => 1;',
    },
    'core-reaches-no-rim': { 'src/triage/tide.ts': "import '../checks/ebb.ts';", 'src/checks/ebb.ts': "import 'node:fs';" },
    'engine-behind-its-port': {
      'src/ledger/read/tide.ts': "import '../sqlite/ebb.ts';",
      'src/ledger/sqlite/ebb.ts': 'export const ebb = 1;',
    },
    'queue-behind-its-port': {
      'src/queue/tide.ts': "import './pg-boss/ebb.ts';",
      'src/queue/pg-boss/ebb.ts': 'export const ebb = 1;',
    },
    'cli-is-the-top': { 'src/gate/tide.ts': "import '../cli/ebb.ts';", 'src/cli/ebb.ts': 'export const ebb = 1;' },
    ...Object.fromEntries(
      rules
        .filter((rule) => rule.name.startsWith('row-'))
        .map((rule) => {
          const part = /^\^(.*)\/$/.exec(String(rule.from.path).replace(/\(\?![^)]*\)/, ''))?.[1] ?? '';
          const up = '../'.repeat(part.split('/').length);
          return [
            rule.name,
            { [`${part}/tide.ts`]: `import '${up}src/stranger/ebb.ts';`, 'src/stranger/ebb.ts': 'export const ebb = 1;' },
          ];
        }),
    ),
  };

  test.each(rules.map((rule) => rule.name))('%s fires on a planted violation', async (name) => {
    const files = violations[name] ?? {};
    expect(Object.keys(files).length).toBeGreaterThan(0);
    const folder = path.join(planted, name);
    for (const [file, text] of Object.entries(files)) {
      mkdirSync(path.dirname(path.join(folder, file)), { recursive: true });
      writeFileSync(path.join(folder, file), `${text}\n`);
    }
    writeFileSync(path.join(folder, 'tsconfig.json'), '{}');
    const { summary } = await look(folder, [...new Set(Object.keys(files).map((file) => file.split('/')[0] ?? ''))]);
    expect(summary.violations.map((v) => v.rule.name)).toContain(name);
  });
});
