/**
 * Lint: correctness rules with types, the layer order of the house, and the bans in core.
 * The layers are data in one list; `checks/layers.test.ts` proves that an upward import is refused.
 */

/** Stages of core, lowest first: a folder may import from folders before it, never from those after. */
export const CORE_STAGES = [
  'theory',
  'chart',
  'hand',
  'analysis',
  'plan',
  'parts',
  'score',
  'performance',
  'take',
  'lesson',
];

/** Stages that stand beside the order: hand rests on theory alone. */
const NOT_FROM = { hand: ['chart'] };

const UP = (folder) => ({
  group: [`**/${folder}/**`, `**/${folder}`],
  message: `an import never points up: '${folder}' lies above this folder (CONTRIBUTING, 'The house')`,
});

const PACKAGES_ABOVE = {
  'packages/core': ['@fivespan/formats', '@fivespan/sound', '@fivespan/cli', '@fivespan/web'],
  'packages/formats': ['@fivespan/sound', '@fivespan/cli', '@fivespan/web'],
  'packages/sound': ['@fivespan/formats', '@fivespan/cli', '@fivespan/web'],
};

/** Patterns that no file of a package may import. */
const packagePatterns = (folder) =>
  PACKAGES_ABOVE[folder].map((name) => ({
    group: [name, `${name}/*`],
    message: `an import never points up: ${name} is not below ${folder}`,
  }));

const NODE_BUILTINS = { group: ['node:*', 'fs', 'path', 'os'], message: 'core is pure: no input or output' };

const CORE_BANS = {
  'no-restricted-globals': [
    'error',
    { name: 'Date', message: 'core has no clock: pass one in' },
    { name: 'performance', message: 'core has no clock: pass one in' },
    { name: 'process', message: 'core is pure' },
    { name: 'console', message: 'core is pure' },
    { name: 'Intl', message: 'the same bytes on every machine: no locale' },
  ],
  'no-restricted-properties': [
    'error',
    { object: 'Math', property: 'random', message: 'the same seed gives the same music: pass a RandomSource in' },
    { object: 'globalThis', property: 'Date', message: 'core has no clock: pass one in' },
  ],
};

export default {
  plugins: ['typescript', 'import', 'unicorn', 'oxc'],
  categories: { correctness: 'error', suspicious: 'error' },
  ignorePatterns: ['**/dist/**', 'out/**', 'checks/fixtures/**'],
  rules: {
    'no-shadow': 'off',
    'no-underscore-dangle': 'off',
    // does not know noUncheckedIndexedAccess
    'typescript/no-unnecessary-type-assertion': 'off',
    // TypeScript sees it
    'typescript/consistent-return': 'off',
    // takes closures that change a variable for loops that do not
    'no-unmodified-loop-condition': 'off',
    'import/no-named-as-default': 'off',
    'import/no-named-as-default-member': 'off',
    'unicorn/consistent-function-scoping': 'off',
    // a rule for windows; ours are worker threads
    'unicorn/require-post-message-target-origin': 'off',
    'import/no-cycle': 'error',
    'import/no-unassigned-import': 'off',
    'unicorn/no-array-sort': 'off',
    'unicorn/no-array-reverse': 'off',
    'typescript/no-floating-promises': 'error',
    'typescript/switch-exhaustiveness-check': 'error',
    'typescript/no-unsafe-type-assertion': 'off',
    // we spread strings of accidentals, never of people's names
    'typescript/no-misused-spread': 'off',
    'typescript/consistent-type-imports': 'error',
    eqeqeq: ['error', 'always', { null: 'ignore' }],
    // a declaration file that other packages must find too
    'typescript/triple-slash-reference': 'off',
    'no-var': 'error',
    'prefer-const': 'error',
    'no-console': 'off',
  },
  overrides: [
    ...CORE_STAGES.map((stage, index) => ({
      files: [`packages/core/src/${stage}/**`],
      rules: {
        ...CORE_BANS,
        'no-restricted-imports': [
          'error',
          {
            patterns: [
              ...[...CORE_STAGES.slice(index + 1), ...(NOT_FROM[stage] ?? [])].map(UP),
              ...packagePatterns('packages/core'),
              NODE_BUILTINS,
            ],
          },
        ],
      },
    })),
    {
      files: ['packages/core/src/*.ts'],
      rules: {
        ...CORE_BANS,
        'no-restricted-imports': ['error', { patterns: [...packagePatterns('packages/core'), NODE_BUILTINS] }],
      },
    },
    {
      files: ['packages/core/src/{issue/**,random.ts,progress.ts}'],
      rules: {
        ...CORE_BANS,
        'no-restricted-imports': ['error', { patterns: [...CORE_STAGES.map(UP), ...packagePatterns('packages/core')] }],
      },
    },
    {
      files: ['packages/formats/src/**'],
      rules: { 'no-restricted-imports': ['error', { patterns: packagePatterns('packages/formats') }] },
    },
    {
      files: ['**/*.test.ts'],
      rules: { 'no-restricted-imports': 'off', 'no-restricted-globals': 'off', 'no-restricted-properties': 'off' },
    },
  ],
};
