// npm run mutate:some -- 0.1 7 checks gate: changes a share of the core's code, blocks of lines drawn by a seed, and tells of each folder how many of
// the changes were noticed. All of the core takes hours; a tenth of it tells its score within a few hundredths.
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';

/** Lines: about one function. */
const BLOCK = 12;

const [share = '0.1', seed = '7', ...named] = process.argv.slice(2);
const folders = (named.length > 0 ? named : ['checks', 'colour', 'gate', 'triage']).map((name) => path.join('src', name));
let state = Number(seed);
/** mulberry32. */
const random = () => {
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
};

const blocks = folders.flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .toSorted()
    .flatMap((name) => {
      const file = path.join(folder, name);
      const lines = readFileSync(file, 'utf8').split('\n').length;
      return Array.from(
        { length: Math.ceil(lines / BLOCK) },
        (_, at) => `${file}:${at * BLOCK + 1}-${Math.min(lines, (at + 1) * BLOCK)}`,
      );
    })
    .filter(() => random() < Number(share)),
);
const { status } = spawnSync('npx', ['stryker', 'run', '--mutate', blocks.join(',')], { stdio: 'inherit' });
const { files } = JSON.parse(readFileSync('reports/mutation.json', 'utf8'));
for (const folder of folders) {
  const of = Object.entries(files).flatMap(([file, { mutants }]) => (file.startsWith(`${folder}/`) ? mutants : []));
  const count = (...wanted) => of.filter((mutant) => wanted.includes(mutant.status)).length;
  const [noticed, missed] = [count('Killed', 'Timeout'), count('Survived', 'NoCoverage')];
  console.log(
    `${folder}: ${noticed} of ${noticed + missed} changes noticed (${((100 * noticed) / (noticed + missed)).toFixed(0)} %)`,
  );
}
process.exitCode = status ?? 1;
