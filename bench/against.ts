// Nights of this checkout beside those of another revision, in turns on one machine: `npm run bench -- --against REV`. What is printed is
// this checkout's time as a share of the other's, round by round, with quartiles; a ratio whose quartiles lie on both sides of 1 says
// nothing. GLOAM_ROUNDS=3 for a quick look. For a workflow that watches for slowness, never for a test.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { MAIN, ROOT, nightOn } from './harbour-night.ts';
import type { Subject } from './subjects.ts';
import { subjects } from './subjects.ts';

const ROUNDS = Number(process.env['GLOAM_ROUNDS'] ?? 5);

const NIGHTS = ['first run', 'unchanged night', 'one token changed'] as const;

/** @param revision whatever git takes for one @throws Error git does not know it, or it does not build */
export async function against(revision: string): Promise<void> {
  const folder = mkdtempSync(path.join(tmpdir(), 'gloam-against-'));
  const other = path.join(folder, 'other');
  const commit = git('rev-parse', '--verify', '--short', `${revision}^{commit}`);
  const remove = (): void => {
    git('worktree', 'remove', '--force', other);
    rmSync(folder, { recursive: true, force: true });
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      remove();
      process.exit(130);
    });
  try {
    git('worktree', 'add', '--detach', other, commit);
    build(other);
    console.log(`this checkout against ${commit}, ${String(ROUNDS)} rounds; below 1: this one is faster`);
    const mains = { here: MAIN, there: path.join(other, 'dist', 'cli', 'main.js') };
    for (const subject of subjects()) await compare(subject, mains, folder);
  } finally {
    remove();
  }
}

async function compare(subject: Subject, mains: { readonly here: string; readonly there: string }, folder: string): Promise<void> {
  const ratios = NIGHTS.map((): number[] => []);
  for (let round = 1; round <= ROUNDS; round += 1) {
    // Who goes first changes, so that neither always finds the machine warm.
    const order = round % 2 === 0 ? (['here', 'there'] as const) : (['there', 'here'] as const);
    const took = { here: [] as number[], there: [] as number[] };
    for (const side of order) took[side] = await nights(subject, mains[side], mkdtempSync(path.join(folder, 'round-')));
    for (const [night, of] of ratios.entries()) of.push((took.here[night] ?? NaN) / (took.there[night] ?? NaN));
  }
  for (const [night, name] of NIGHTS.entries()) console.log(`${subject.name}, ${name}: ${spread(ratios[night] ?? [])}`);
}

/** @returns milliseconds of each of NIGHTS, on one store and an app of its own */
async function nights(subject: Subject, main: string, folder: string): Promise<number[]> {
  const [app, store] = [path.join(folder, 'app'), path.join(folder, 'store')];
  mkdirSync(app);
  subject.fill(app);
  const night = (): Promise<number> => nightOn(path.join(app, 'gloam.config.json'), store, { main, more: ['--state', 'rest'] });
  const took = [await night(), await night()];
  subject.turn(app, 1);
  return [...took, await night()];
}

function spread(ratios: readonly number[]): string {
  const sorted = ratios.toSorted((a, b) => a - b);
  const at = (share: number): string => {
    const place = (sorted.length - 1) * share;
    const [low = NaN, high = NaN] = [sorted[Math.floor(place)], sorted[Math.ceil(place)]];
    return (low + (high - low) * (place % 1)).toFixed(2);
  };
  return `${at(0.5)} (quartiles ${at(0.25)} to ${at(0.75)}; all: ${ratios.map((ratio) => ratio.toFixed(2)).join(', ')})`;
}

/** Packages are this checkout's where the other asks for the same ones. */
function build(folder: string): void {
  const lock = (root: string): string => readFileSync(path.join(root, 'package-lock.json'), 'utf8');
  if (lock(folder) === lock(ROOT)) symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
  else execFileSync('npm', ['ci'], { cwd: folder, stdio: 'ignore' });
  execFileSync('npm', ['run', 'build'], { cwd: folder, stdio: 'ignore' });
}

function git(...args: readonly string[]): string {
  return execFileSync('git', args, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] }).trim();
}
