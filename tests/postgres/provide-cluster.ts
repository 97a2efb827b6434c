// Before the tests that run on PostgreSQL: one cluster for all of them; each takes a schema of its own.
import type { TestProject } from 'vitest/node';
import { postgresPrograms, startCluster } from '../../bench/cluster.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    readonly postgres: string;
  }
}

// eslint-disable-next-line no-restricted-syntax -- a global setup is loaded by its default export
export default async function provideCluster(project: TestProject): Promise<() => Promise<void>> {
  const programs = postgresPrograms();
  if (programs === null) throw new Error('PostgreSQL is gone');
  const cluster = await startCluster(programs);
  project.provide('postgres', cluster.address);
  return async () => {
    await cluster[Symbol.asyncDispose]();
  };
}
