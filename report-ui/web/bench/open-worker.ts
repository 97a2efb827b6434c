// The bench's worker. The page's policy takes no script address as a plain text, so one rule vouches for this address and no other.
import workerAddress from './bench-worker.ts?worker&url';

/** Trusted Types (W3C), as far as it is needed here; a browser without it takes the text. */
interface ScriptRules {
  createPolicy(name: string, rules: { createScriptURL(): string }): { createScriptURL(address: string): string };
}

declare global {
  interface Window {
    readonly trustedTypes?: ScriptRules;
  }
}

const rule = window.trustedTypes?.createPolicy('gloam-bench', { createScriptURL: () => workerAddress });

export function openWorker(): Worker {
  return new Worker(rule?.createScriptURL(workerAddress) ?? workerAddress);
}
