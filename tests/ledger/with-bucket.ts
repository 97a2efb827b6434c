// A bucket for tests: its server, and the environment that leads the library there, put back afterwards.
import { startBucket } from '../../bench/bucket.ts';
import type { BucketServer } from '../../bench/bucket.ts';

export async function withBucket(): Promise<BucketServer> {
  const server = await startBucket();
  const back = setEnv(server.env);
  return {
    ...server,
    async [Symbol.asyncDispose]() {
      back();
      await server[Symbol.asyncDispose]();
    },
  };
}

/** @returns what puts it back */
export function setEnv(env: Readonly<Record<string, string>>): () => void {
  const before = Object.keys(env).map((name) => [name, process.env[name]] as const);
  Object.assign(process.env, env);
  return () => {
    for (const [name, value] of before) {
      if (value === undefined) Reflect.deleteProperty(process.env, name);
      else process.env[name] = value;
    }
  };
}
