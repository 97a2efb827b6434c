// Runs the benches one after the other, or those named: `npm run bench -- tokens triage`. Each prints ratios within its own run.
// `npm run bench -- --against REV`: nights of this checkout beside those of another revision.
import { against } from './against.ts';
import { explainSize } from './explain-size.ts';
import { frameworks } from './frameworks.ts';
import { kills } from './kills.ts';
import { list } from './list.ts';
import { memory } from './memory.ts';
import { moves } from './moves.ts';
import { palette } from './palette.ts';
import { run as night } from './run.ts';
import { run as sampling } from './sampling.ts';
import { run as server } from './server.ts';
import { share } from './share.ts';
import { steady } from './steady.ts';
import { run as tokens } from './tokens.ts';
import { run as triage } from './triage.ts';

const BENCHES: Readonly<Record<string, () => Promise<void>>> = {
  tokens,
  triage,
  palette,
  night,
  sampling,
  server,
  list,
  moves,
  steady,
  memory,
  share,
  explain: explainSize,
  frameworks,
  kills,
};

const named = process.argv.slice(2);
const unknown = named.filter((name) => !Object.hasOwn(BENCHES, name));
if (named[0] === '--against' && named.length === 2) await against(named[1] ?? '');
else if (unknown.length > 0) {
  process.stderr.write(
    `${unknown.join(', ')}: no such bench; known: ${Object.keys(BENCHES).join(', ')}, and --against REV alone\n`,
  );
  process.exitCode = 2;
} else {
  for (const [name, bench] of Object.entries(BENCHES)) {
    if (named.length > 0 && !named.includes(name)) continue;
    process.stdout.write(`\n== ${name}\n`);
    await bench();
  }
}
