// Tests that mutated code is held against (`npm run mutate`): the pure ones of the core, each file by itself.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/{checks,colour,gate,pictures,tokens,triage,tables,explore}/**/*.test.ts'],
    testTimeout: 30_000,
  },
});
