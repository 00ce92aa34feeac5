// @ts-check
import { defineConfig, globalIgnores } from 'eslint/config';
import tseslint from 'typescript-eslint';

export default defineConfig(
  globalIgnores(['node_modules/', '.dist/', '.dist-*/', '.cache/', 'data/', 'fixtures/**/*.json']),
  { linterOptions: { reportUnusedDisableDirectives: 'error', noInlineConfig: true } },
  {
    files: ['**/*.ts', '**/*.tsx'],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'separate-type-imports' }],
      '@typescript-eslint/no-import-type-side-effects': 'error',
      '@typescript-eslint/consistent-type-exports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      // Event handlers of pages return promises to React, which ignores them; everywhere else a lost promise is a bug.
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: { attributes: false } }],
      // Numbers and booleans read well inside a sentence.
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      // `() => save()` and `void save()` are plain.
      '@typescript-eslint/no-confusing-void-expression': 'off',
      '@typescript-eslint/no-meaningless-void-operator': 'off',
      // A field left out by naming it: `const { reason: _reason, ...rest } = body`.
      '@typescript-eslint/no-unused-vars': ['error', { ignoreRestSiblings: true }],
      // Array indexing is checked by the compiler (noUncheckedIndexedAccess); a `!` after a checked length is honest.
      '@typescript-eslint/no-non-null-assertion': 'off',
      // What a library hands over as the reason of a failure is passed on as it is.
      '@typescript-eslint/only-throw-error': ['error', { allowThrowingUnknown: true, allowThrowingAny: false }],
      // Digits and signs are taken apart letter by letter; no emoji is a reading.
      '@typescript-eslint/no-misused-spread': 'off',
      // There are no enums here, and no class stands in for another; looking for them takes a fifth of the time.
      '@typescript-eslint/no-unsafe-enum-assignment': 'off',
      '@typescript-eslint/no-unsafe-class-instance-assignment': 'off',
      // Fastify's handlers are async by contract, whether or not they wait.
      '@typescript-eslint/require-await': 'off',
    },
  },
  {
    // Replies are JSON of any shape until a test has looked at them.
    files: ['test/**'],
    rules: {
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
  {
    rules: {
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
      'no-eval': 'error',
      'no-param-reassign': 'error',
      'no-var': 'error',
      'object-shorthand': 'error',
      'prefer-const': 'error',
    },
  },
  {
    // Commands and measurements speak to the person at the terminal.
    files: ['server/main.ts', 'server/commands/**', 'test/bench/**'],
    rules: { 'no-console': 'off' },
  },
);
