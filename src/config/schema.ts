// The configuration file as people write it (docs/configuration.md): shapes, units and defaults. Meaning across members is checked in read-configuration.ts.
// One file for one file, hence the length.
import { z } from 'zod';
import { DRIFT_PARAMETERS } from '../pictures/drift-parameters.ts';
import { CHECK_IDS } from '../checks/table.ts';

const text = (about: string): z.ZodString => z.string().min(1).meta({ description: about });
const texts = (about: string): z.ZodArray<z.ZodString> => z.array(z.string().min(1)).meta({ description: about });
const named = (about: string): z.ZodRecord<z.ZodString, z.ZodString> =>
  z.record(z.string(), z.string()).meta({ description: about });

const tone = z.enum(['light', 'dark']).meta({ description: 'Whether it reads as light or dark.' });
const checkName = z.enum(CHECK_IDS);

const driftShare = (name: keyof typeof DRIFT_PARAMETERS): z.ZodNumber => {
  const { min, max, about } = DRIFT_PARAMETERS[name];
  return z.number().min(min).max(max).meta({ description: about });
};

/** `"/path"` is short for `{ "path": "/path" }`. */
const asPage = (value: unknown): unknown => (typeof value === 'string' ? { path: value } : value);

const app = z
  .strictObject({
    serve: text('A static folder, served on loopback while the run lasts.').optional(),
    fallback: text(
      'With `serve`: the document, from that folder, that answers every address that is no file, for apps whose scripts make the pages; e.g. `index.html`.',
    ).optional(),
    url: z
      .url({ protocol: /^https?$/ })
      .meta({ description: 'Address of a running app; with `start`, the address that is waited for.' })
      .optional(),
    start: text('A command that starts the app; it is stopped when the run ends.').optional(),
  })
  .meta({ description: 'The app under test: `serve`, or `url`, or `start` with `url`.' });

const attribute = z.strictObject({
  on: text('Selector of the element that carries it; `html` unless set.').default('html'),
  name: text('Attribute name.'),
  value: z.string().meta({ description: 'Its value in this theme.' }),
});

const apply = z.strictObject({
  attribute: z
    .union([attribute, z.array(attribute).min(1)])
    .meta({ description: 'Sets an attribute; a list sets several.' })
    .optional(),
  class: z
    .strictObject({
      on: text('Selector of the element that carries them; `html` unless set.').default('html'),
      add: texts('Classes added.').default([]),
      remove: texts('Classes removed.').default([]),
    })
    .meta({ description: 'Adds and removes classes.' })
    .optional(),
  media: z
    .strictObject({
      colorScheme: z.enum(['light', 'dark', 'no-preference']).meta({ description: '`prefers-color-scheme`.' }).optional(),
      contrast: z.enum(['more', 'less', 'no-preference']).meta({ description: '`prefers-contrast`.' }).optional(),
      forcedColors: z.enum(['active', 'none']).meta({ description: '`forced-colors`.' }).optional(),
      reducedMotion: z.enum(['reduce', 'no-preference']).meta({ description: '`prefers-reduced-motion`.' }).optional(),
    })
    .meta({ description: 'Media features the browser reports.' })
    .optional(),
  storage: named(
    'Entries of localStorage and sessionStorage, there before the page’s own scripts run; the page is loaded afresh.',
  ).optional(),
  cookie: named('Cookies of the whole origin; the page is loaded afresh.').optional(),
  query: named('Members of the address’s query; the page is loaded afresh.').optional(),
  script: text('A script file that runs in the page and puts the theme on.').optional(),
  reload: z
    .boolean()
    .meta({
      description:
        'Forces a fresh load for this theme. With storage, cookie, query or script the page is loaded twice: what takes effect on the load after is there.',
    })
    .optional(),
});

const theme = z.strictObject({
  apply: apply.meta({ description: 'How the theme is put on; members may be combined.' }).prefault({}),
  tone: tone.meta({ description: 'Whether the theme as a whole reads as light or dark.' }),
  alike: z
    .boolean()
    .meta({ description: 'It may look exactly like the reference; without this, such a theme counts as not put on.' })
    .optional(),
  tokens: named('The theme’s place in the resolver document: modifier → context.').default({}),
});

const page = z.strictObject({
  path: z.string().regex(/^\//, 'a path that starts with /').meta({ description: 'Path from the root of the app.' }),
  name: text('Name used in reports and filters; the path unless set.').optional(),
  states: texts('States (besides rest) this page is also captured in.').default([]),
  waitFor: text(
    'Selector that must be visible before the page counts as loaded. What the app has not begun to answer by then is not waited for: a page that asks for news and gets none for minutes names one.',
  ).optional(),
  lands: z
    .string()
    .regex(/^(\/|https?:\/\/)/, 'a path that starts with / or an address (http://…)')
    .meta({ description: 'Where it ends when it leads on (`/sign-in`): without this, a page that ends elsewhere is not captured.' })
    .optional(),
  status: z
    .number()
    .int()
    .min(200)
    .max(599)
    .meta({ description: 'Status its document answers with, e.g. 404 for the page that says so; any 2xx unless set.' })
    .optional(),
  owner: text('Who looks after this page.').optional(),
  viewports: texts('Viewports it is captured in; all unless set.').optional(),
  drift: z
    .strictObject({ threshold: driftShare('threshold').optional(), allowedShare: driftShare('allowedShare').optional() })
    .meta({ description: 'How much its pictures may differ from the accepted ones, where it is not as under `checks.drift`.' })
    .optional(),
});

const positive = z.number().int().min(1).max(16384);
const viewport = z.preprocess(
  (value) => (Array.isArray(value) ? { width: value[0] as unknown, height: value[1] as unknown } : value),
  z.strictObject({
    width: positive.meta({ description: 'CSS px.' }),
    height: positive.meta({ description: 'CSS px.' }),
    scale: z.number().min(0.5).max(4).meta({ description: 'Device pixels per CSS px.' }).default(1),
  }),
);

const state = z.strictObject({
  hover: text('Selector of the element under the pointer.').optional(),
  focus: text('Selector of the element that has keyboard focus.').optional(),
  active: text('Selector of the element that is pressed.').optional(),
  click: text('Selector of the element that is clicked before capture.').optional(),
  script: text('A script file that runs in the page before capture.').optional(),
});

export const tokenNaming = z.strictObject({
  prefix: z.string().meta({ description: 'Put between `--` and the name, with the separator behind it.' }).optional(),
  sep: z.enum(['-', '_', '--']).meta({ description: 'Stands between the segments of a path; `-` unless set.' }).optional(),
  case: z.enum(['keep', 'lower', 'kebab']).meta({ description: 'What happens to capitals; `keep` unless set.' }).optional(),
  root: z.string().meta({ description: '`omit`, or the word that stands for `$root`.' }).optional(),
  drop: texts('Leading segments that are left out.').optional(),
  replace: z
    .string()
    .meta({ description: 'Stands for runs of characters a name cannot have; `-` unless set, `\\\\` escapes them instead.' })
    .optional(),
  exceptions: z
    .record(z.string(), z.array(z.string()))
    .meta({ description: 'Token path → property names, where the rule does not fit.' })
    .optional(),
});

/** One glob over token paths, or several. */
const patterns = (about: string): z.ZodUnion<readonly [z.ZodString, z.ZodArray<z.ZodString>]> =>
  z.union([z.string().min(1), z.array(z.string().min(1)).min(1)]).meta({ description: about });

const pair = z.strictObject({
  ink: patterns('Tokens of texts, icons or edges (globs over token paths; one or a list).'),
  on: patterns('Tokens they may lie on (likewise).'),
  as: z
    .enum(['text', 'large', 'graphic'])
    .meta({
      description:
        'What is drawn in them: `text` of any size (needs 4.5), `large` text only (3), `graphic`: icons and edges (3). At level AAA of `text-contrast` texts need 7 and 4.5.',
    })
    .default('text'),
  contrast: z.number().min(1).max(21).meta({ description: 'Least contrast ratio, where it is not the one of `as`.' }).optional(),
});

const tokens = z.strictObject({
  resolver: text('A resolver document (Design Tokens Resolver Module 2025.10).').optional(),
  base: texts('Token files that hold in every theme.').optional(),
  themes: z
    .record(z.string(), z.array(z.string().min(1)))
    .meta({ description: 'Theme name → token files laid over the base in it.' })
    .optional(),
  css: z
    .preprocess((value) => (Array.isArray(value) || value === undefined ? value : [value]), z.array(tokenNaming))
    .meta({ description: 'How token paths become custom property names; several patterns are tried in turn.' })
    .default([{}]),
  pairs: z
    .array(pair)
    .meta({
      description:
        'Which inks may lie on which surfaces; each pair is judged in every theme. Where two rules name a pair the first counts.',
    })
    .default([]),
});

const date = z.iso.date();

export const exemption = z.strictObject({
  selector: text('Elements it covers, with all that is inside them. For `token-fault`: a token path, or a glob over token paths.'),
  checks: z.array(checkName).meta({ description: 'Checks it covers; all unless set.' }).optional(),
  pages: texts('Pages it is limited to (`*` stands for any characters); all unless set.').optional(),
  themes: texts('Themes it is limited to; all unless set.').optional(),
  states: texts('States it is limited to; all unless set.').optional(),
  logotype: z
    .boolean()
    .meta({ description: 'Its text is part of a logo or brand name: WCAG requires no contrast of it, and its samples say so.' })
    .optional(),
  faults: texts('Codes of `token-fault` it is limited to; all unless set.').optional(),
  why: text('The reason, shown wherever the exemption is.'),
  owner: text('Who answers for it.').optional(),
  until: date.meta({ description: 'Last day it holds, YYYY-MM-DD.' }).optional(),
});

/** `"FILE"` is short for `{ "script": "FILE" }`. */
const session = z.preprocess(
  (value) => (typeof value === 'string' ? { script: value } : value),
  z.strictObject({
    script: text(
      'A module (`.mjs` or `.js`) whose default export is called once for each worker with `{ page, context, env, origin }`.',
    ),
    env: texts('Environment variables it gets in `env`; their values are kept out of all that is written.').default([]),
    within: z.number().min(1).max(600).meta({ description: 'Seconds it may take.' }).default(60),
  }),
);
const given = z.union([
  z.string(),
  z.strictObject({
    env: text('Environment variable that holds the value; the value is kept out of all that is written.'),
    before: z.string().meta({ description: 'Put before it, e.g. `Bearer `.' }).optional(),
  }),
]);
const duration = z.string().regex(/^(?=.*[1-9])(\d+h)?(\d+m)?(\d+s)?$/, 'a time such as 90s, 30m or 1h30m');
const night = z.strictObject({
  within: duration.meta({ description: 'No new view is started after this time, e.g. `90s`, `30m`, `1h30m`.' }).optional(),
  since: text('Run whose findings are allowed: its id, or `previous`.').optional(),
  forms: text('Folder that all forms of the gate are written to.').optional(),
  keep: z
    .number()
    .int()
    .min(1)
    .meta({ description: 'How many of the latest finished runs stay; the last whole one does in any case.' })
    .optional(),
});

const checkOptions = z.union([
  z.literal('off'),
  z.record(z.string(), z.union([z.number(), z.string(), z.boolean(), z.array(z.string())])),
]);

const count = z.number().int().min(0);
/** Check name, `check:level`, `*` or `*:level` → how many at most; `coverage` → a share. */
const ceilings = z.record(z.string(), z.number());
/** Ceilings, and members with names of their own; which value goes with which name is checked in to-criteria.ts. */
const criteria = z.record(z.string(), z.union([z.number(), z.string(), z.boolean(), z.record(z.string(), ceilings)])).meta({
  description:
    'Check name, `check:level`, `*` or `*:level` → how many at most; `coverage` → least share of colours through tokens; `since` → a run whose findings are allowed; `failed`, `unsettled`, `thin`, `loading`, `asking`, `idle` → views; `alike` → pages; `accepted` → true when every view needs an accepted picture; `owners` → owner → ceilings of its own.',
});

export const configurationFile = z.strictObject({
  app,
  pages: z
    .union([
      z.array(z.preprocess(asPage, page)).min(1),
      z.strictObject({ sitemap: text('Path of a sitemap.') }),
      z.strictObject({
        follow: text('Path to start from.'),
        limit: count.min(1).meta({ description: 'Pages at most.' }).default(200),
      }),
    ])
    .meta({ description: 'Pages to render: a list, or where to find them.' }),
  themes: z.record(z.string().min(1), theme).meta({ description: 'Theme name → how it is put on.' }),
  reference: text('The theme the others are compared with; the first one unless set.').optional(),
  viewports: z
    .record(z.string().min(1), viewport)
    .meta({ description: 'Viewport name → size.' })
    .default({ desk: { width: 1280, height: 800, scale: 1 } }),
  states: z.record(z.string().min(1), state).meta({ description: 'State name → what is done to the page.' }).default({}),
  tokens: tokens.meta({ description: 'The token files.' }).optional(),
  ramps: texts('Token paths that are ramps (globs); told from the alias structure unless set.').optional(),
  session: session.meta({ description: 'Signs in to the app; what it leaves is reused and kept in memory only.' }).optional(),
  headers: z
    .record(z.string().min(1), given)
    .meta({ description: 'Headers sent to the app’s origin alone: name → text, or `{ "env": NAME }`.' })
    .optional(),
  cookies: z
    .record(z.string().min(1), given)
    .meta({ description: 'Cookies for the app’s origin: name → text, or `{ "env": NAME }`.' })
    .optional(),
  retries: z
    .number()
    .int()
    .min(0)
    .max(5)
    .meta({ description: 'Further tries of a view that did not come to rest, hung or crashed; that it needed one is said.' })
    .default(1),
  limits: z
    .strictObject({
      view: z
        .number()
        .min(1)
        .max(3600)
        .meta({ description: 'Seconds that one view may take in all; the load counts for the first view that shares it.' })
        .default(60),
    })
    .meta({ description: 'How long things may take.' })
    .optional(),
  night: night.meta({ description: 'What `gloam night` does unless its options say otherwise.' }).optional(),
  stay: z
    .array(z.strictObject({ selector: text('The surface.'), tone }))
    .meta({ description: 'Surfaces that keep their tone in every theme.' })
    .default([]),
  exempt: z.array(exemption).meta({ description: 'What is known and accepted.' }).default([]),
  clock: z.iso
    .datetime({ offset: true })
    .meta({ description: 'Instant at which the clock of the pages stands still (timers go on), e.g. `2031-05-04T08:56:00Z`.' })
    .optional(),
  mask: texts('Selectors whose pixels are left out of picture comparison.').default([]),
  checks: z.partialRecord(checkName, checkOptions).meta({ description: 'Check name → `off` or its options.' }).default({}),
  owners: z
    .array(
      z.strictObject({
        pages: text('Glob over page names.').optional(),
        selector: text('Elements.').optional(),
        owner: text('Who.'),
      }),
    )
    .meta({ description: 'Who looks after what; the first match counts.' })
    .default([]),
  store: text(
    'Where runs are kept: a folder, or a database, `postgres://USER@HOST/DATABASE?schema=NAME` without its password; `.gloam` unless set.',
  ).optional(),
  blobs: text(
    'Where pictures and samples lie where the store is a database: a folder that all machines see, or a bucket, `s3://BUCKET/PREFIX` without any keys.',
  ).optional(),
  gate: z.record(z.string(), criteria).meta({ description: 'Theme name (or `*`) → launch criteria.' }).default({}),
});

/** What a configuration file may hold; for `satisfies` in TypeScript configurations. */
export type ConfigurationFile = z.input<typeof configurationFile>;
export type ParsedConfiguration = z.output<typeof configurationFile>;
