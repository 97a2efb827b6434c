// Questions to the report server, or to the answers written beside the page when it was opened from a folder. The server answers by
// the schemas these types are made from, and its tests hold it to them; so an answer is taken for what its type says.
import { questionAddress } from '../api/address.ts';
import type { Answer, AskedBody, AskedQuery, EndpointName, Params } from '../api/endpoints.ts';
import type { Failure } from '../api/live.ts';
import { siteAnswer, siteFile, siteForm } from './site-files.ts';

/** Paths of the endpoints, repeated here because the page takes only types from the server's table; the compiler holds the names equal. */
const PATHS = {
  session: '/api/session',
  runs: '/api/runs',
  run: '/api/runs/:run',
  tonight: '/api/runs/:run/tonight',
  grid: '/api/runs/:run/grid',
  page: '/api/runs/:run/page',
  findings: '/api/runs/:run/findings',
  list: '/api/runs/:run/list',
  rows: '/api/runs/:run/rows',
  evidence: '/api/runs/:run/evidence',
  causes: '/api/runs/:run/causes',
  cause: '/api/runs/:run/cause',
  places: '/api/runs/:run/places',
  bench: '/api/runs/:run/bench',
  benchPatch: '/api/runs/:run/bench-patch',
  benchLooks: '/api/runs/:run/bench-looks',
  benchShots: '/api/runs/:run/bench-shots',
  benchWork: '/api/bench-work',
  benchBegin: '/api/bench-begin',
  benchEnd: '/api/bench-end',
  ramps: '/api/runs/:run/ramps',
  token: '/api/runs/:run/token',
  search: '/api/runs/:run/search',
  queue: '/api/runs/:run/queue',
  owners: '/api/runs/:run/owners',
  looks: '/api/runs/:run/looks',
  changeGroups: '/api/runs/:run/change-groups',
  changes: '/api/runs/:run/changes',
  launch: '/api/runs/:run/launch',
  history: '/api/history',
  compare: '/api/compare',
  acceptances: '/api/acceptances',
  accept: '/api/accept',
  answer: '/api/answer',
  takeBack: '/api/take-back',
  undo: '/api/undo',
} as const satisfies { readonly [N in EndpointName]: `/api/${string}` };

/** What the server said no with. */
export class Refusal extends Error {
  readonly hint: string;
  readonly code: string;
  constructor(failure: Failure) {
    super(failure.error);
    this.name = 'Refusal';
    this.hint = failure.hint;
    this.code = failure.code;
  }
}

export function addressOf(
  name: EndpointName,
  params: Readonly<Record<string, unknown>>,
  query: Readonly<Record<string, unknown>>,
): string {
  return questionAddress(PATHS[name], params, query);
}

/** Seen from the page: the report may lie under a path of a proxy. */
export function here(address: string): string {
  return `.${address}`;
}

export async function ask<N extends EndpointName>(name: N, params: Params<N>, query: AskedQuery<N>): Promise<Answer<N>> {
  const address = addressOf(name, params, query);
  const answer = siteForm()
    ? await siteAnswer(address)
    : await fetchJson(here(address), { headers: { accept: 'application/json' } });
  return answer as Answer<N>;
}

export async function tell<N extends 'accept' | 'undo' | 'answer' | 'takeBack' | 'benchBegin' | 'benchEnd'>(
  name: N,
  body: AskedBody<N>,
  token: string,
): Promise<Answer<N>> {
  const answer = await fetchJson(here(PATHS[name]), {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-gloam-token': token },
    body: JSON.stringify(body),
  });
  return answer as Answer<N>;
}

/** Address of a file the server makes of a blob: `/blobs/HASH`, `/thumbs/HASH/WIDTH`, `/crops/HASH/BOX`. */
export function fileAddress(path: string): string {
  return siteForm() ? siteFile(path) : here(path);
}

async function fetchJson(address: string, init: RequestInit): Promise<unknown> {
  let response: Response;
  let body: unknown;
  try {
    response = await fetch(address, { ...init, credentials: 'same-origin' });
    body = await response.json();
  } catch {
    throw new Refusal({
      code: 'no-answer',
      error: 'The report server does not answer.',
      hint: 'It may have ended, or the way to it is cut. Look at the terminal it was started in, then try again.',
    });
  }
  if (!response.ok) throw new Refusal(body as Failure);
  return body;
}
