// A repair is tried on pages that are loaded as the run loaded them.
import { expect, test } from 'vitest';
import { folderWith, gloam, page } from './gloam.ts';

test('where a switch of theme leaves something behind, each theme is loaded', async () => {
  const folder = folderWith({
    // The flag takes its ground as it is loaded: put on in place, dusk has its light words on the ground of noon.
    'site/index.html': page(
      '<h1>Quay</h1><p class="weak">Low water at noon</p><p id="flag">Springs</p><script>flag.style.background = document.documentElement.className === "dusk" ? "#123" : "#def"</script>',
      'html { --weak: #666 } html.dusk { --weak: #555 } .weak { color: var(--weak) }',
    ),
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      checks: { unthemed: 'off' },
    }),
  });
  const run = await gloam(folder, 'run', '--json');
  expect(run.code).toBe(0);
  const causes = JSON.parse((await gloam(folder, 'explain', '--json')).stdout) as readonly { readonly id: string }[];
  expect(causes).toHaveLength(1);
  const { stdout } = await gloam(folder, 'explain', String(causes[0]?.id), '--try');
  expect(stdout).toContain('mends 1 (predicted 1), breaks 0 (predicted 0)');
});
