// All requests the report server answers with JSON. The server checks requests by this table, the OpenAPI document is made from it,
// and the page takes its types from it. One table, hence the length.
import { z } from 'zod';
import { none, runId } from './basics.ts';
import {
  bench,
  benchBegin,
  benchEnd,
  benchLooks,
  benchLooksQuery,
  benchPatch,
  benchPatchQuery,
  benchShots,
  benchShotsQuery,
  benchWork,
} from './bench.ts';
import { acceptBody, acceptance, acceptanceList, changeGroups, changeList, changeQuery, undoBody } from './changes.ts';
import {
  causeList,
  causeQuery,
  evidence,
  evidenceQuery,
  findingFilter,
  findingList,
  placeList,
  placeQuery,
  rankedCause,
} from './findings.ts';
import { comparison, compareQuery, history } from './history.ts';
import { launch } from './launch.ts';
import { list, listQuery, rows, rowsQuery } from './list.ts';
import { owners } from './owners.ts';
import { page, pageQuery } from './page.ts';
import { answerWish, given, looks, looksQuery, queue, takeBackBody } from './queue.ts';
import { rampList } from './ramps.ts';
import { search, searchQuery } from './search.ts';
import { tokenPage, tokenQuery } from './token.ts';
import { run, runList, session } from './runs.ts';
import { grid, gridQuery, tonight } from './tonight.ts';

const ofRun = z.strictObject({ run: runId });

export const ENDPOINTS = {
  session: {
    method: 'GET',
    path: '/api/session',
    about: 'What is served, and the token for changes.',
    params: none,
    query: none,
    body: none,
    answer: session,
  },
  runs: {
    method: 'GET',
    path: '/api/runs',
    about: 'Runs, newest first.',
    params: none,
    query: gridQuery,
    body: none,
    answer: runList,
  },
  run: {
    method: 'GET',
    path: '/api/runs/:run',
    about: 'One run and the names its views are made of.',
    params: ofRun,
    query: none,
    body: none,
    answer: run,
  },
  tonight: {
    method: 'GET',
    path: '/api/runs/:run/tonight',
    about: 'What changed since the run before.',
    params: ofRun,
    query: none,
    body: none,
    answer: tonight,
  },
  grid: {
    method: 'GET',
    path: '/api/runs/:run/grid',
    about: 'Counts by page and theme.',
    params: ofRun,
    query: gridQuery,
    body: none,
    answer: grid,
  },
  page: {
    method: 'GET',
    path: '/api/runs/:run/page',
    about: 'The views of one page.',
    params: ofRun,
    query: pageQuery,
    body: none,
    answer: page,
  },
  findings: {
    method: 'GET',
    path: '/api/runs/:run/findings',
    about: 'Findings, by page, place and check.',
    params: ofRun,
    query: findingFilter,
    body: none,
    answer: findingList,
  },
  list: {
    method: 'GET',
    path: '/api/runs/:run/list',
    about: 'All findings of a run, narrowed and grouped.',
    params: ofRun,
    query: listQuery,
    body: none,
    answer: list,
  },
  rows: {
    method: 'GET',
    path: '/api/runs/:run/rows',
    about: 'Rows of that list by their place in it, group after group.',
    params: ofRun,
    query: rowsQuery,
    body: none,
    answer: rows,
  },
  evidence: {
    method: 'GET',
    path: '/api/runs/:run/evidence',
    about: 'The samples behind the findings of a page, in every theme.',
    params: ofRun,
    query: evidenceQuery,
    body: none,
    answer: evidence,
  },
  causes: {
    method: 'GET',
    path: '/api/runs/:run/causes',
    about: 'Causes, ranked.',
    params: ofRun,
    query: gridQuery,
    body: none,
    answer: causeList,
  },
  cause: {
    method: 'GET',
    path: '/api/runs/:run/cause',
    about: 'One cause.',
    params: ofRun,
    query: causeQuery,
    body: none,
    answer: rankedCause,
  },
  places: {
    method: 'GET',
    path: '/api/runs/:run/places',
    about: 'The findings of one cause, with their pictures.',
    params: ofRun,
    query: placeQuery,
    body: none,
    answer: placeList,
  },
  bench: {
    method: 'GET',
    path: '/api/runs/:run/bench',
    about: 'The cases of a run, for trying other token values.',
    params: ofRun,
    query: none,
    body: none,
    answer: bench,
  },
  benchPatch: {
    method: 'GET',
    path: '/api/runs/:run/bench-patch',
    about: 'A proposal as a patch of the token files.',
    params: ofRun,
    query: benchPatchQuery,
    body: none,
    answer: benchPatch,
  },
  benchLooks: {
    method: 'GET',
    path: '/api/runs/:run/bench-looks',
    about: 'Places of one view under a proposal, for recolouring its picture.',
    params: ofRun,
    query: benchLooksQuery,
    body: none,
    answer: benchLooks,
  },
  benchShots: {
    method: 'GET',
    path: '/api/runs/:run/bench-shots',
    about: 'Pictures of some views.',
    params: ofRun,
    query: benchShotsQuery,
    body: none,
    answer: benchShots,
  },
  benchWork: {
    method: 'GET',
    path: '/api/bench-work',
    about: 'How far the work is that was begun from the bench.',
    params: none,
    query: none,
    body: none,
    answer: benchWork,
  },
  benchBegin: {
    method: 'POST',
    path: '/api/bench-begin',
    about: 'Begins work on a proposal, in a process of its own; one at a time.',
    params: none,
    query: none,
    body: benchBegin,
    answer: benchWork,
  },
  benchEnd: {
    method: 'POST',
    path: '/api/bench-end',
    about: 'Ends that work.',
    params: none,
    query: none,
    body: benchEnd,
    answer: benchWork,
  },
  ramps: {
    method: 'GET',
    path: '/api/runs/:run/ramps',
    about: 'Ramps per theme and where their steps are used.',
    params: ofRun,
    query: none,
    body: none,
    answer: rampList,
  },
  token: {
    method: 'GET',
    path: '/api/runs/:run/token',
    about: 'One token or step, with all it paints.',
    params: ofRun,
    query: tokenQuery,
    body: none,
    answer: tokenPage,
  },
  search: {
    method: 'GET',
    path: '/api/runs/:run/search',
    about: 'Search over the names of a run.',
    params: ofRun,
    query: searchQuery,
    body: none,
    answer: search,
  },
  queue: {
    method: 'GET',
    path: '/api/runs/:run/queue',
    about: 'Causes with new findings, and what was answered to them.',
    params: ofRun,
    query: none,
    body: none,
    answer: queue,
  },
  owners: {
    method: 'GET',
    path: '/api/runs/:run/owners',
    about: 'Findings by owner, and how they went over the nights.',
    params: ofRun,
    query: none,
    body: none,
    answer: owners,
  },
  looks: {
    method: 'GET',
    path: '/api/runs/:run/looks',
    about: 'The distinct looks of a cause, beside the reference theme.',
    params: ofRun,
    query: looksQuery,
    body: none,
    answer: looks,
  },
  changeGroups: {
    method: 'GET',
    path: '/api/runs/:run/change-groups',
    about: 'What explains the pictures that differ from the accepted ones.',
    params: ofRun,
    query: none,
    body: none,
    answer: changeGroups,
  },
  changes: {
    method: 'GET',
    path: '/api/runs/:run/changes',
    about: 'The pictures of one group.',
    params: ofRun,
    query: changeQuery,
    body: none,
    answer: changeList,
  },
  launch: {
    method: 'GET',
    path: '/api/runs/:run/launch',
    about: 'Whether each theme may launch.',
    params: ofRun,
    query: none,
    body: none,
    answer: launch,
  },
  history: {
    method: 'GET',
    path: '/api/history',
    about: 'Counts over the nights.',
    params: none,
    query: none,
    body: none,
    answer: history,
  },
  compare: {
    method: 'GET',
    path: '/api/compare',
    about: 'What differs between two runs.',
    params: none,
    query: compareQuery,
    body: none,
    answer: comparison,
  },
  acceptances: {
    method: 'GET',
    path: '/api/acceptances',
    about: 'What was accepted, newest first.',
    params: none,
    query: gridQuery,
    body: none,
    answer: acceptanceList,
  },
  accept: {
    method: 'POST',
    path: '/api/accept',
    about: 'Makes the pictures of a run the accepted ones.',
    params: none,
    query: none,
    body: acceptBody,
    answer: acceptance,
  },
  answer: {
    method: 'POST',
    path: '/api/answer',
    about: 'Answers a cause of the morning queue.',
    params: none,
    query: none,
    body: answerWish,
    answer: given,
  },
  takeBack: {
    method: 'POST',
    path: '/api/take-back',
    about: 'Takes an answer back, with what it did.',
    params: none,
    query: none,
    body: takeBackBody,
    answer: given,
  },
  undo: {
    method: 'POST',
    path: '/api/undo',
    about: 'Takes an acceptance back.',
    params: none,
    query: none,
    body: undoBody,
    answer: acceptance,
  },
} as const satisfies Record<string, Endpoint>;

export interface Endpoint {
  readonly method: 'GET' | 'POST';
  readonly path: string;
  readonly about: string;
  readonly params: z.ZodObject;
  readonly query: z.ZodObject;
  readonly body: z.ZodObject;
  readonly answer: z.ZodType;
}

export type EndpointName = keyof typeof ENDPOINTS;
export type Params<N extends EndpointName> = z.infer<(typeof ENDPOINTS)[N]['params']>;
export type Query<N extends EndpointName> = z.infer<(typeof ENDPOINTS)[N]['query']>;
/** A query as it is asked: members with defaults may be left out. */
export type AskedQuery<N extends EndpointName> = z.input<(typeof ENDPOINTS)[N]['query']>;
export type Body<N extends EndpointName> = z.infer<(typeof ENDPOINTS)[N]['body']>;
export type AskedBody<N extends EndpointName> = z.input<(typeof ENDPOINTS)[N]['body']>;
export type Answer<N extends EndpointName> = z.infer<(typeof ENDPOINTS)[N]['answer']>;
