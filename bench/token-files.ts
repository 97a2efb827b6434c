// A large set of token files: 20,000 tokens in 8 themes, half of the groups overridden in each theme.
const TOKENS = 20_000;
const THEMES = 8;
const RAMPS = 60;
const STEPS = 11;
const IN_GROUP = 40;

/** Numerical Recipes' linear congruence: the same files on every machine. */
function randomFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** A hundredth of 0–1 from light to dark, with a tint. */
function stepValue(ramp: number, step: number): unknown {
  const grey = 0.97 - step * 0.087;
  const tint = ((ramp % 7) - 3) * 0.015;
  return { $value: { colorSpace: 'srgb', components: [grey + tint, grey, grey - tint].map((v) => Math.min(1, Math.max(0, v))) } };
}

/** @returns file name → JSON text: `base.json`, and one file a theme */
export function makeTokenFiles(): ReadonlyMap<string, string> {
  const random = randomFrom(7);
  const alias = (): unknown => ({ $value: `{hue${String(random(RAMPS))}.${String(random(STEPS) * 100)}}` });
  const base: Record<string, unknown> = {};
  for (let ramp = 0; ramp < RAMPS; ramp += 1) {
    const steps = Array.from({ length: STEPS }, (_, step): [string, unknown] => [String(step * 100), stepValue(ramp, step)]);
    base[`hue${String(ramp)}`] = { $type: 'color', ...Object.fromEntries(steps) };
  }
  const groups = Math.ceil((TOKENS - RAMPS * STEPS) / IN_GROUP);
  const partsOf = (group: number, every: number): [string, unknown] => [
    `part${String(group)}`,
    // Every third token refers to its neighbour, which refers to a ramp.
    Object.fromEntries(
      Array.from({ length: IN_GROUP }, (_, i): [string, unknown] => [
        `t${String(i)}`,
        i % 3 === 2 ? { $value: `{part${String(group)}.t${String(i - 1)}}` } : alias(),
      ]).filter((_, i) => i % every === 0),
    ),
  ];
  for (let group = 0; group < groups; group += 1) Object.assign(base, Object.fromEntries([partsOf(group, 1)]));
  const files = new Map([['base.json', JSON.stringify(base, null, 2)]]);
  for (let theme = 0; theme < THEMES; theme += 1) {
    const parts = Array.from({ length: groups / 2 }, (_, i) => partsOf(i * 2, 2));
    files.set(`theme${String(theme)}.json`, JSON.stringify(Object.fromEntries(parts), null, 2));
  }
  return files;
}
