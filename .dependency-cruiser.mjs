// Which part may import which (DEVELOPERS.md, "Parts"). A rule per row, each with its why.
const CORE = 'src/(samples|errors|colour|pictures|plan|tokens|checks|triage|forecast|palette)/';

/** Parts and packages that files of a folder may import; everything else is a violation. */
const ROWS = [
  { part: 'src/samples', may: [], why: 'types only: everything may depend on them' },
  { part: 'src/errors', may: [], why: 'the catalogue knows nothing of what goes wrong where' },
  { part: 'src/colour', may: ['src/samples', 'src/errors'], packages: ['culori'], why: 'numbers only: no DOM, no files' },
  { part: 'src/pictures', may: ['src/samples', 'src/errors'], packages: ['pixelmatch'], why: 'decoded pixels only' },
  { part: 'src/plan', may: ['src/samples', 'src/errors'], why: 'configuration → list of views' },
  { part: 'src/tokens', may: ['src/colour', 'src/errors'], why: 'the token format, never the browser' },
  {
    part: 'src/literals',
    may: ['src/colour', 'src/tokens', 'src/errors'],
    packages: ['postcss', 'postcss-scss', 'css-tree', '@babel/parser', '@babel/types'],
    why: 'texts of style sheets and scripts → literal colours; no files',
  },
  { part: 'src/checks', may: ['src/samples', 'src/colour', 'src/tokens', 'src/errors'], why: 'pure: samples → findings' },
  {
    part: 'src/triage',
    may: ['src/samples', 'src/colour', 'src/tokens', 'src/pictures', 'src/checks', 'src/errors'],
    why: 'pure: findings → causes',
  },
  {
    part: 'src/forecast',
    may: ['src/samples', 'src/colour', 'src/tokens', 'src/checks', 'src/triage', 'src/plan', 'src/errors'],
    why: 'pure: samples and token tables → samples with other colours',
  },
  {
    part: 'src/palette',
    may: ['src/samples', 'src/colour', 'src/tokens', 'src/checks', 'src/triage', 'src/errors'],
    why: 'pure: cases → the least change of the palette; the solver is an argument',
  },
  {
    part: 'src/gate',
    may: ['src/samples', 'src/plan', 'src/errors', 'src/ledger', 'src/checks'],
    why: 'criteria are pure, the rest reads the ledger',
  },
  {
    part: 'src/ledger',
    may: ['src/samples', 'src/errors', 'src/plan'],
    packages: ['kysely', 'better-sqlite3', 'pg', '@aws-sdk/client-s3', 'node:'],
    why: 'SQL, files and buckets, never the browser',
  },
  {
    part: 'src/queue',
    may: ['src/errors'],
    packages: ['pg-boss', 'pg', 'node:'],
    why: 'work that machines share: knows neither plans nor stores',
  },
  {
    part: 'src/config',
    may: ['src/pictures', 'src/samples', 'src/errors', 'src/plan', 'src/tokens', 'src/checks'],
    packages: ['zod', 'c12', 'css-tree', 'node:'],
    why: 'finds, reads, validates',
  },
  { part: 'runner/page', may: ['src/samples'], typesOnly: true, why: 'runs inside the page under test: plain DOM' },
  {
    part: 'runner',
    may: ['runner/page', 'src/samples', 'src/errors', 'src/plan', 'src/pictures', 'src/colour'],
    packages: ['playwright', 'pngjs', 'sharp', 'postcss', 'css-tree', '@bramus/specificity', 'node:'],
    why: 'everything that touches Chromium; never the ledger or the gate',
  },
  { part: 'report-ui/api', may: ['src/samples'], packages: ['zod'], why: 'types and schemas of requests and answers' },
  {
    part: 'report-ui/server',
    may: ['report-ui/api', 'src/samples', 'src/errors', 'src/pictures', 'src/checks', 'src/ledger', 'src/gate'],
    packages: ['fastify', '@fastify', 'zod', 'sharp', 'node:'],
    why: 'reads the ledger, never the browser',
  },
  {
    part: 'report-ui/sheet',
    may: ['report-ui/api', 'report-ui/web'],
    packages: ['preact', 'vite', '@preact/preset-vite'],
    why: 'a page of its own made of the parts of the report',
  },
  {
    part: 'report-ui/web/bench',
    may: ['report-ui/web', 'report-ui/api', 'src/samples', 'src/colour', 'src/tokens', 'src/checks', 'src/triage', 'src/forecast'],
    packages: ['preact'],
    why: 'the bench judges in the page, by the code that judges a run',
  },
  {
    part: 'report-ui/web',
    may: ['report-ui/api', 'src/samples'],
    packages: ['preact', '@tanstack/virtual-core', 'vite', '@preact/preset-vite'],
    why: 'the page: types of samples and api, nothing of Node',
  },
];

/** Parts with a folder that has a row of its own. */
const APART = { runner: '^runner/(?!page/)', 'report-ui/web': '^report-ui/web/(?!bench/)' };

const rows = ROWS.map(({ part, may, packages = [], why }) => {
  const inside = APART[part] ?? `^${part}/`;
  const allowed = [
    part === 'runner' ? 'runner/(?!page/)' : `${part}/`,
    ...may.map((p) => (p === 'runner' ? 'runner/(?!page/)' : `${p}/`)),
  ];
  const modules = packages.filter((p) => p !== 'node:').map((p) => `(node_modules/)?(@types/)?${p}(/|$)`);
  return {
    name: `row-${part.replaceAll('/', '-')}`,
    comment: why,
    severity: 'error',
    from: { path: inside },
    to: {
      pathNot: [...allowed, ...modules].map((p) => `^${p}`),
      ...(packages.includes('node:') ? { dependencyTypesNot: ['core'] } : {}),
    },
  };
});

export default {
  forbidden: [
    { name: 'no-cycles', comment: 'data flows one way', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'page-types-only',
      comment: 'in-page code is one bundle of plain DOM code; it takes only types from elsewhere',
      severity: 'error',
      from: { path: '^runner/page/' },
      to: { path: '^(src|report-ui)/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'core-reaches-no-rim',
      comment: 'the pure core has no browser, file, clock or environment, not even through others',
      severity: 'error',
      from: { path: `^${CORE}` },
      to: {
        path: '(node_modules/(playwright|kysely|better-sqlite3|pg|pg-boss|fastify)|^(node:)?(fs|child_process|http|net)$)',
        reachable: true,
      },
    },
    {
      name: 'cli-is-the-top',
      comment: 'commands compose the parts; only tests, bench and scenarios start from them',
      severity: 'error',
      from: { path: '^(src/(?!cli/)|runner|report-ui)' },
      to: { path: '^src/cli/' },
    },
    {
      name: 'engine-behind-its-port',
      comment: 'a database engine is known in its own folder; store-at.ts chooses between them',
      severity: 'error',
      from: { pathNot: '^src/(ledger/(sqlite/|postgres/|store-at\\.ts)|queue/pg-boss/)' },
      to: { path: '(node_modules/(better-sqlite3|pg)/|^src/ledger/(sqlite|postgres)/)' },
    },
    {
      name: 'queue-behind-its-port',
      comment: 'a library of queues is known in its own folder; queue-at.ts chooses',
      severity: 'error',
      from: { pathNot: '^src/queue/(pg-boss/|queue-at\\.ts)' },
      to: { path: '(node_modules/pg-boss/|^src/queue/pg-boss/)' },
    },
    ...rows,
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^|/)dist/|vite\\.config\\.ts$' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.js', '.mjs', '.json'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'node', 'default'],
    },
  },
};
