// npm run build:cli: the compiled command line and the packages it uses in a few files of `dist/cli`. Node takes about a millisecond to
// find, read and link a module, and there were nine hundred of them before a run began.
import { mkdir, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';

const root = import.meta.dirname;
const entry = join(root, 'dist/src/cli/main.js');
const to = join(root, 'dist/cli');

/** Native, found by their place in node_modules, or needed by one command only. Playwright is required in runner/browser/playwright.ts. */
const LEFT_OUT = ['@aws-sdk/client-s3', 'better-sqlite3', 'pg', 'pg-boss', 'sharp', 'fastify', '@fastify/static', 'c12', 'highs'];

/** Packages written as CommonJS ask for Node's own modules by `require`. */
const REQUIRE = "import { createRequire as gloamRequire } from 'node:module'; const require = gloamRequire(import.meta.url);";

/** Writes `dist/cli` from what `tsc -b` left in `dist`; returns its files. Those of an earlier build stay: a gloam may be running. */
export async function bundleCli() {
  const { outputFiles, metafile } = await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outdir: to,
    bundle: true,
    splitting: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    external: LEFT_OUT,
    banner: { js: REQUIRE },
    charset: 'utf8',
    logLevel: 'warning',
    metafile: true,
    write: false,
  });
  const wanted = new Map(outputFiles.map(({ path, contents }) => [path, Buffer.from(contents)]));
  wanted.set(join(to, 'licences.txt'), Buffer.from(await licences(Object.keys(metafile.inputs))));
  await mkdir(to, { recursive: true });
  for (const [path, contents] of wanted) {
    const there = await readFile(path).catch(() => null);
    if (there === null || !there.equals(contents))
      await writeFile(path, contents, { mode: path.endsWith('/main.js') ? 0o755 : 0o644 });
  }
  return new Set(wanted.keys());
}

/** Of the packages inside, which all ask for theirs to go along. */
async function licences(inputs) {
  const folders = new Set(inputs.flatMap((input) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input)?.[0] ?? []));
  const texts = await Promise.all([...folders].sort().map((folder) => licence(resolve(root, folder))));
  return texts.join('\n\n');
}

async function licence(folder) {
  const { name, version } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  const file = (await readdir(folder)).find((each) => /^licen[cs]e/i.test(each));
  if (file === undefined) throw new Error(`${folder}: no licence to go along with what is bundled`);
  return `${name} ${version}\n\n${await readFile(join(folder, file), 'utf8')}`;
}

/** Vitest calls it before tests that start gloam. */
export async function setup() {
  await bundleCli();
}

if (process.argv[1] === import.meta.filename) {
  const wanted = await bundleCli();
  for (const name of await readdir(to)) if (!wanted.has(join(to, name))) await rm(join(to, name));
}
