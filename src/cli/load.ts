// The parts that commands load when they need them, so that help answers at once. In a file of their own because TypeScript 6.0.3
// leaves the ending `.ts` in a dynamic import that stands in one function with `await using` (tried).
/* eslint-disable @typescript-eslint/explicit-module-boundary-types -- each is the type of a module */

export const loadLedger = async () => ({ ...(await import('../ledger/ledger.ts')), ...(await import('../ledger/store-at.ts')) });
export const loadCopy = () => import('../ledger/care/copy-store.ts');
export const loadDoctor = () => import('../ledger/care/doctor.ts');
export const loadExportRun = () => import('./run/export-judged.ts');
export const loadExecuteRun = () => import('./run/execute-run.ts');
export const loadShowSummary = () => import('./run/show-summary.ts');
export const loadReport = () => import('./report-kit.ts');
export const loadTokens = () => import('./tokens-kit.ts');
export const loadInit = () => import('./init-kit.ts');
export const loadTryCause = () => import('./run/try-cause.ts');
export const loadForecast = () => import('./forecast-kit.ts');
export const loadRetune = () => import('./retune-kit.ts');
export const loadJoin = () => import('./run/join-stores.ts');
export const loadLeadRun = () => import('./work/lead-run.ts');
export const loadWork = () => import('./work/work-runs.ts');
export const loadWatch = () => import('./run/watch.ts');
export const loadTopics = () => import('./topics.ts');
