// Every gloam command in the pages on the gate, exemptions and nights is run, in their order, on a small app.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { gloam, quayApp } from './gloam.ts';

const DOCS = path.resolve(import.meta.dirname, '../../docs');

/** In code blocks: from `gloam` to the end of the line or to what the shell does next. */
function commandsIn(page: string): readonly string[] {
  const blocks = [...readFileSync(path.join(DOCS, page), 'utf8').matchAll(/```(\w*)\n([\s\S]*?)```/g)];
  return blocks.flatMap(([, , text = '']) =>
    [...text.matchAll(/(?:^|npx |&& )gloam ((?:"[^"]*"|[^\n"'|&>])+)/gm)].map((match) => (match[1] ?? '').trim()),
  );
}

/** As a shell would split it; variables of continuous integration become a word. */
function argumentsOf(command: string, finding: string): readonly string[] {
  const words = [...command.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '');
  return words.map((word) =>
    word
      .replace(/\$\{\{[^}]*\}\}|\$\w+/g, 'new-pier')
      .replace('FINDING', finding)
      .replace('/srv/harbour/', ''),
  );
}

describe.each(['gate.md', 'exemptions.md', 'nightly.md'])('docs/%s', (page) => {
  let folder: string;
  let finding: string;
  beforeAll(async () => {
    folder = quayApp();
    await gloam(folder, 'run', '--export', 'exported');
    const [line = '{}'] = readFileSync(path.join(folder, 'exported/findings.ndjson'), 'utf8').split('\n');
    finding = (JSON.parse(line) as { readonly id: string }).id;
  });

  const commands = [...new Set(commandsIn(page))];
  test('holds commands', () => {
    expect(commands.length).toBeGreaterThan(1);
  });
  test.each(commands)('gloam %s', async (command) => {
    const { code, stderr } = await gloam(folder, ...argumentsOf(command, finding));
    expect([0, 1], stderr).toContain(code);
  });
});

test('the criteria printed in docs/gate.md are read as they stand', async () => {
  const [, text = ''] = /```ts\n([\s\S]*?)```/.exec(readFileSync(path.join(DOCS, 'gate.md'), 'utf8')) ?? [];
  const folder = quayApp();
  const config = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8').replace(/\}\s*$/, '');
  writeFileSync(path.join(folder, 'gate.config.ts'), `export default ${config}, ${text} };`);
  await gloam(folder, 'run', '--config', 'gate.config.ts');
  const { code, stdout } = await gloam(folder, 'gate', '--config', 'gate.config.ts', '--theme', 'dusk');
  expect(code).toBe(1);
  for (const name of [
    'Text contrast',
    'Graphic contrast, warnings',
    'Colours through tokens',
    'Pictures accepted',
    'pilots: All checks',
  ])
    expect(stdout).toContain(name);
});
