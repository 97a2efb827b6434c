// The configuration in the page on the gate is used as it stands. Its commands: docs-commands.test.ts.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { gloam, quayApp } from './gloam.ts';

const DOCS = path.resolve(import.meta.dirname, '../../docs');

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
