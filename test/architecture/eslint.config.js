import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

/** Imports that dependency-cruiser cannot see: types alone, in a component, are gone before it looks. */
function closed(files, group, message) {
  return {
    files,
    rules: { 'no-restricted-imports': ['error', { patterns: [{ group, message }] }] },
  };
}

const TESTS = ['**/*.test.ts', 'test/**'];

export default ts.config(
  { ignores: ['**/node_modules/', 'dist/', 'data/', 'server/store/generated/', 'test/results/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  js.configs.recommended,
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  {
    rules: {
      'max-lines': ['error', { max: 400 }],
      'no-console': 'error',
      eqeqeq: ['error', 'always'],
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true } }],
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      // A name that begins with an underscore says that it is not used.
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', caughtErrors: 'all' },
      ],
      // The compiler looks after names that do not exist.
      'no-undef': 'off',
    },
  },
  {
    files: ['music/**/*.ts'],
    ignores: TESTS,
    languageOptions: { globals: {} },
    rules: {
      'no-restricted-globals': [
        'error',
        { name: 'Date', message: 'The core has no clock: time comes in as a value.' },
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'The core has no chance: it comes in.' },
      ],
    },
  },
  {
    files: ['server/**', 'prisma/**', '.ci/**', 'test/**'],
    languageOptions: { globals: globals.node },
  },
  { files: ['web/**'], languageOptions: { globals: globals.browser } },
  {
    files: ['web/**'],
    ignores: ['web/api/**', ...TESTS],
    rules: {
      'no-restricted-globals': [
        'error',
        { name: 'fetch', message: 'Only web/api asks the server.' },
      ],
    },
  },
  closed(
    ['web/parts/**'],
    ['#web/api/*', '#web/state/*', '**/api/*', '**/state/*'],
    'A part takes props and gives callbacks.',
  ),
  closed(['web/pages/**'], ['#web/api/*', '**/api/*'], 'A page reaches the network through state.'),
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] } },
  },
  {
    files: ['**/*.svelte'],
    // The links are to our own router, which needs no resolving; keys of lists are asked for.
    rules: { 'svelte/no-navigation-without-resolve': 'off', 'svelte/require-each-key': 'error' },
  },
  // Values are replaced and never changed in place, so that a plain Map in a state is right.
  { files: ['web/**'], rules: { 'svelte/prefer-svelte-reactivity': 'off' } },
  // Facts from outside stand in one table.
  { files: ['test/reference/tables/**'], rules: { 'max-lines': 'off' } },
  // Tools want a default export of these; what starts, builds or measures speaks on the console.
  {
    files: [
      '**/*.config.{js,ts,mjs}',
      '**/*.d.{ts,mts}',
      'test/architecture/**',
      'test/support/**',
    ],
    rules: { 'no-restricted-exports': 'off' },
  },
  {
    files: ['server/main.ts', 'server/launch/**', 'test/**', '.ci/**'],
    rules: { 'no-console': 'off' },
  },
);
