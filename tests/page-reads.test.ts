// In-page code reads what may be a form or a document past the names of its fields: everywhere through `dom`.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { directReads } from './direct-reads.ts';

const PAGE_CODE = path.resolve(import.meta.dirname, '../runner/page');

test('no property of what may be a form or a document is read from the object itself', () => {
  const reads = [...directReads(PAGE_CODE)].filter(([file]) => path.basename(file) !== 'dom.ts');
  expect(reads.flatMap(([file, list]) => list.map(({ text }) => `${path.relative(PAGE_CODE, file)}: ${text}`))).toEqual([]);
});

test('what the fence sees', async () => {
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-reads-'));
  try {
    await writeFile(
      path.join(folder, 'tsconfig.json'),
      '{"compilerOptions":{"strict":true,"lib":["es2023","dom"],"target":"es2022"},"include":["*.ts"]}',
    );
    await writeFile(
      path.join(folder, 'tide.ts'),
      `declare const dom: <T>(node: T) => T;
export function told(el: Element, root: Document | ShadowRoot, shape: { id: string }, input: HTMLInputElement, text: Text): unknown[] {
  const { id } = el;
  return [el.children, el['title' as 'id'], root.querySelector('p'), el.parentElement?.id, 'host' in root, id,
    dom(el).children, shape.id, input.value, text.data, dom(dom(el).parentElement)?.id];
}`,
    );
    const reads = [...directReads(folder).values()].flat().map(({ text }) => text);
    expect(reads).toEqual(['el', 'el', 'el', 'root', 'el.parentElement', 'el', 'root']);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
