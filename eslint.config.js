import tseslint from 'typescript-eslint';

const EXPORTS = [
  { selector: 'ExportAllDeclaration', message: 'Name what is exported; no barrels.' },
  { selector: 'ExportDefaultDeclaration', message: 'Named exports only.' },
  { selector: 'TSEnumDeclaration', message: 'A union of literals says the same without a run-time object.' },
];

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/', 'reports/', 'scenarios/*/app/', '.gloam/'] },
  {
    files: ['**/*.ts', '**/*.tsx'],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ['*.config.ts', 'report-ui/web/vite.config.ts', 'report-ui/sheet/vite.config.ts'] },
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/explicit-module-boundary-types': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-assertions': ['error', { assertionStyle: 'as', objectLiteralTypeAssertions: 'never' }],
      'no-restricted-syntax': ['error', ...EXPORTS],
      // There are no enums here; looking for them took a sixth of the time.
      '@typescript-eslint/no-unsafe-enum-assignment': 'off',
    },
  },
  {
    // Whatever a page is asked while it is captured, a page that loops never answers: `Tab.guard` ends the wait. Making and leaving a tab has
    // one limit over all (`Tab.open`), held elements and clicks one guard over their steps.
    files: ['runner/{tab,theme,visit,text,painted,origins,written}/**/*.ts'],
    ignores: ['runner/tab/tab.ts', 'runner/tab/page-world.ts', 'runner/theme/enter-state.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        ...EXPORTS,
        ...['', ' > MemberExpression > CallExpression'].map((caught) => ({
          selector: `AwaitExpression > CallExpression${caught} > MemberExpression[property.name=/^(send|detach|newCDPSession)$/]`,
          message: 'Wait within `Tab.guard`, or do not wait.',
        })),
      ],
    },
  },
  {
    // Tool settings must export a default.
    files: ['**/*.config.ts', 'scenarios/**/gloam.config.ts'],
    rules: { 'no-restricted-syntax': 'off' },
  },
);
