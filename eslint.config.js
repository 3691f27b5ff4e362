import svelte from 'eslint-plugin-svelte';
import tseslint from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

// Folders whose code must give the same answer for the same input, anywhere.
const pureFolders = ['src/domain', 'src/procedure', 'src/sizing', 'src/labels', 'src/review'];

export default tseslint.config(
  { ignores: ['node_modules', 'dist', 'coverage', '.cache', 'test-results'] },
  ...tseslint.configs.strict,
  ...svelte.configs['flat/recommended'],
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: {
      parserOptions: { parser: tseslint.parser, extraFileExtensions: ['.svelte'], svelteConfig },
    },
  },
  {
    files: ['src/**/*.ts', 'src/**/*.svelte', 'tests/**/*.ts'],
    rules: {
      // The error catalogue speaks to people; an alert box freezes a wall.
      'no-alert': 'error',
      // A swallowed error is a lie by omission.
      'no-empty': ['error', { allowEmptyCatch: false }],
      'max-lines': ['error', { max: 400, skipBlankLines: true, skipComments: true }],
      // A flat switch over a union counts once.
      complexity: ['error', { max: 15, variant: 'modified' }],
      eqeqeq: 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-invalid-void-type': 'off',
    },
  },
  {
    files: ['src/**/*.ts', 'src/**/*.svelte'],
    rules: {
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true } }],
      'no-restricted-globals': [
        'error',
        { name: 'alert', message: 'Take a text from the error catalogue (src/domain/errors).' },
      ],
    },
  },
  {
    files: pureFolders.map((folder) => `${folder}/**/*.ts`),
    rules: {
      'no-restricted-properties': [
        'error',
        {
          object: 'Date',
          property: 'now',
          message: 'Times arrive in entries; see domain/clock.ts.',
        },
        { object: 'Math', property: 'random', message: 'Pass a seeded source in.' },
      ],
      'no-console': 'error',
    },
  },
);
