// npm run mutate:some -- 0.1 7 checks gate: changes a share of the core's code, blocks of lines drawn by a seed, and tells of each folder how many of
// the changes its own tests noticed. All of the core takes hours; a tenth of it tells its score within a few hundredths.
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';

/** Lines: about one function. */
const BLOCK = 12;

const [share = '0.1', seed = '7', ...named] = process.argv.slice(2);
const folders = named.length > 0 ? named : ['checks', 'colour', 'gate', 'triage'];

/** mulberry32. */
function randomFrom(seed) {
  let state = Number(seed);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Drawn for each folder anew: a folder's sample does not depend on which others are named. */
function blocksOf(folder) {
  const random = randomFrom(seed);
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
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
    .filter(() => random() < Number(share));
}

const told = folders.map((name) => {
  const env = { ...process.env, GLOAM_MUTATED: name };
  const { status } = spawnSync('npx', ['stryker', 'run', '--mutate', blocksOf(path.join('src', name)).join(',')], {
    stdio: 'inherit',
    env,
  });
  if (status !== 0) process.exitCode = 1;
  const { files } = JSON.parse(readFileSync(`reports/mutation-${name}.json`, 'utf8'));
  const all = Object.values(files).flatMap(({ mutants }) => mutants);
  const count = (...wanted) => all.filter((mutant) => wanted.includes(mutant.status)).length;
  const [noticed, missed] = [count('Killed', 'Timeout'), count('Survived', 'NoCoverage')];
  const percent = ((100 * noticed) / (noticed + missed)).toFixed(0);
  return `${name}: ${noticed} of ${noticed + missed} changes noticed (${percent} %)`;
});
console.log(told.join('\n'));
