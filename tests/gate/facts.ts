// Facts of a run of the harbour screens, as the gate gets them; tests change what they are about.
import { judge as judgeCounted } from '../../src/gate/criteria.ts';
import type { GateFacts, GateFinding, GateKind, GateView } from '../../src/gate/facts.ts';
import type { GateVerdict } from '../../src/gate/verdict.ts';
import type { Cause, Level } from '../../src/samples/finding.ts';

/** With the findings one by one, as a test tells them. */
export interface ToldFacts extends Omit<GateFacts, 'findings' | 'since'> {
  readonly findings: readonly GateFinding[];
  readonly since: {
    readonly run: string;
    /** Finding id → level. */
    readonly findings: ReadonlyMap<string, Level>;
    /** Ids of the views it captured. */
    readonly views: ReadonlySet<string>;
  } | null;
}

export function judge(told: ToldFacts, criteria: Parameters<typeof judgeCounted>[1]): GateVerdict {
  const findings = told.findings.map((each): GateKind => ({
    ...each,
    owner: each.owner ?? null,
    then: told.since?.findings.get(each.id) ?? null,
    seen: told.since?.views.has(each.view) === true,
    count: 1,
    first: [each],
  }));
  const judgement = judgeCounted({ ...told, findings, since: told.since?.run ?? null }, criteria);
  return { ...judgement, findings: told.findings.filter(({ status }) => status !== 'exempt') };
}

export function view(page: string, over: Partial<GateView> = {}): GateView {
  const place = { page, theme: 'dusk', state: 'rest', viewport: 'desk' };
  return {
    id: `${page}@dusk/rest/desk`,
    ...place,
    status: 'captured',
    trouble: null,
    unsteady: null,
    unread: null,
    unsettled: false,
    accepted: null,
    ...over,
  };
}

export function finding(id: string, over: Partial<GateFinding> = {}): GateFinding {
  const page = over.page ?? 'stations';
  return {
    id,
    check: 'text-contrast',
    level: 'error',
    status: 'known',
    view: `${page}@dusk/rest/desk`,
    page,
    theme: 'dusk',
    state: 'rest',
    viewport: 'desk',
    selector: `#${id}`,
    rect: [40, 120, 96, 18],
    message: 'The station name reads at 2.9:1 on the water band; 4.5:1 is needed.',
    cause: null,
    since: 'night-1',
    ...over,
  };
}

/** `count` findings named `id-1` … that share what `over` says. */
export function findings(id: string, count: number, over: Partial<GateFinding> = {}): readonly GateFinding[] {
  return Array.from({ length: count }, (_, i) => finding(`${id}-${String(i + 1)}`, over));
}

export function cause(id: string, over: Partial<Cause> = {}): Cause {
  return {
    id,
    layer: 'ramp',
    step: 'silt.600',
    chain: [
      { property: 'color', value: 'var(--dial-note)' },
      { token: 'dial.note', value: '{silt.600}', file: '/harbour/tokens/dusk.json', line: 14 },
      { token: 'silt.600', value: '#5b6770', file: '/harbour/tokens/ramps.json', line: 31 },
    ],
    findings: 3,
    themes: ['dusk'],
    pages: 2,
    confidence: 0.9,
    why: 'Every place that ends in this step is too dark on the dusk surfaces.',
    ...over,
  };
}

export function facts(over: Partial<ToldFacts> = {}): ToldFacts {
  return {
    theme: 'dusk',
    run: {
      id: 'night-7',
      startedAt: '2031-04-09T02:00:00.000Z',
      finishedAt: '2031-04-09T02:11:30.000Z',
      gloam: '0.1.0',
      browser: 'Chromium 156',
      partial: false,
    },
    today: '2031-04-09',
    views: [view('stations'), view('alarms'), view('berths')],
    doubts: [],
    pages: ['stations', 'alarms', 'berths'],
    findings: [],
    gone: 0,
    causes: [],
    coverage: [],
    exemptions: [],
    off: [],
    since: null,
    ...over,
  };
}
