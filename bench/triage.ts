// Triage of a large run: samples → cases → causes, at growing sizes. Prints seconds, memory and the ratios between sizes; the aim is
// 1,000,000 samples × 5,000 tokens × 8 themes in 20 s and 1 GB, growing about linearly.
import { ALL_CHECKS } from '../src/checks/table.ts';
import type { CheckId } from '../src/samples/finding.ts';
import { openTriage } from '../src/triage/open-triage.ts';
import type { ActiveCheck } from '../src/triage/world.ts';
import { LARGE, madeRun, TEXTS_A_VIEW } from './made-run.ts';

interface Measured {
  readonly samples: number;
  readonly findings: number;
  readonly cases: number;
  readonly causes: number;
  readonly addMs: number;
  readonly closeMs: number;
  readonly heapMb: number;
  /** Of the process, while it added and closed: steadier than the clock on a shared machine. */
  readonly cpuMs: number;
}

function measure(views: number): Measured {
  const { table, viewAt, samplesAt, findings: findAll } = madeRun(LARGE, views);
  const checks: ReadonlyMap<CheckId, ActiveCheck> = new Map(ALL_CHECKS.map((check) => [check.id, { check, options: {} }]));
  const findings = findAll();
  const triage = openTriage({ table, findings, checks, served: [] });
  let addMs = 0;
  let cpuMs = 0;
  const cpu = (): number => process.cpuUsage().user / 1000;
  let peak = 0;
  for (let at = 0; at < views; at += 1) {
    const samples = samplesAt(at);
    const [from, cpuFrom] = [performance.now(), cpu()];
    triage.add(viewAt(at), samples);
    addMs += performance.now() - from;
    cpuMs += cpu() - cpuFrom;
    if (at % 64 === 0) peak = Math.max(peak, process.memoryUsage().heapUsed);
  }
  const [from, cpuFrom] = [performance.now(), cpu()];
  const { causes, ground } = triage.close();
  const closeMs = performance.now() - from;
  cpuMs += cpu() - cpuFrom;
  peak = Math.max(peak, process.memoryUsage().heapUsed);
  return {
    samples: views * TEXTS_A_VIEW,
    findings: findings.length,
    cases: ground.world.cases.length,
    causes: causes.length,
    addMs,
    closeMs,
    heapMb: peak / 2 ** 20,
    cpuMs,
  };
}

export function run(): Promise<void> {
  // The first size warms up and is dropped.
  measure(40);
  const sizes = [500, 1_000, 2_000, 4_000].map((views) => measure(views));
  console.log('samples    findings   cases  causes   add s   close s   all s   cpu s   heap MB   cpu s per 100,000 samples');
  for (const each of sizes) {
    const all = (each.addMs + each.closeMs) / 1000;
    console.log(
      [
        each.samples.toLocaleString('en').padEnd(10),
        each.findings.toLocaleString('en').padStart(8),
        String(each.cases).padStart(7),
        String(each.causes).padStart(7),
        (each.addMs / 1000).toFixed(2).padStart(7),
        (each.closeMs / 1000).toFixed(2).padStart(9),
        all.toFixed(2).padStart(7),
        (each.cpuMs / 1000).toFixed(2).padStart(7),
        each.heapMb.toFixed(0).padStart(9),
        ((each.cpuMs / 1000 / each.samples) * 100_000).toFixed(3).padStart(12),
      ].join(' '),
    );
  }
  return Promise.resolve();
}
