import js from '@eslint/js';
import jsdoc from 'eslint-plugin-jsdoc';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

/** What the pure core must not touch; the reason stands in the failing message. */
const IMPURE = [
  ['Date', 'time comes in as an argument, so that a record can be computed again'],
  ['performance', 'time comes in as an argument, so that a record can be computed again'],
  ['window', 'the core runs without a browser'],
  ['document', 'the core runs without a browser'],
  ['navigator', 'the core runs without a browser'],
  ['indexedDB', 'storage is an adapter'],
  ['localStorage', 'storage is an adapter'],
  ['sessionStorage', 'storage is an adapter'],
  ['fetch', 'the network is an adapter'],
  ['setTimeout', 'time comes in as an argument'],
  ['setInterval', 'time comes in as an argument'],
  ['requestAnimationFrame', 'the core runs without a browser'],
  ['console', 'the core returns values and never logs'],
];

/** What screens and their state must not touch: devices, storage and the network belong to the adapters. */
const ONLY_ADAPTERS = [
  ['indexedDB', 'storage belongs to src/adapters/storage'],
  ['localStorage', 'storage belongs to src/adapters'],
  ['fetch', 'the network belongs to src/adapters'],
  ['RTCPeerConnection', 'links belong to src/adapters'],
];

/** @param {readonly (readonly string[])[]} list */
const named = (list) => list.map(([name, message]) => ({ name, message: `Not here: ${message}.` }));

export default ts.config(
  { ignores: ['dist/', 'out/', 'node_modules/', 'models/files/', '.cache/', 'public/'] },
  js.configs.recommended,
  ...ts.configs.strict,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.browser, ...globals.node } },
    rules: {
      'no-console': 'error',
      eqeqeq: 'error',
      'no-undef': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      'max-lines': ['error', { max: 320, skipBlankLines: true, skipComments: true }],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
  },
  {
    files: ['src/**/*.ts'],
    plugins: { jsdoc },
    rules: {
      'jsdoc/require-jsdoc': [
        'error',
        {
          publicOnly: true,
          require: { FunctionDeclaration: true, ClassDeclaration: true, ArrowFunctionExpression: false },
          contexts: ['TSInterfaceDeclaration'],
        },
      ],
    },
  },
  {
    files: ['src/core/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', ...named(IMPURE)],
      'no-restricted-properties': [
        'error',
        {
          object: 'Math',
          property: 'random',
          message: 'Not here: a record must give the same numbers each time.',
        },
      ],
    },
  },
  {
    files: ['src/ui/**', 'src/state/**'],
    rules: { 'no-restricted-globals': ['error', ...named(ONLY_ADAPTERS)] },
  },
  { files: ['scripts/**', 'demo-clips/**', 'tests/**'], rules: { 'no-console': 'off' } },
);
