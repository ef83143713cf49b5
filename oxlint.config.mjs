/**
 * Lint: correctness rules with types, the layer order of the house, and the bans in core.
 * The layers are data in one list; `checks/house/layers.test.ts` proves that an upward import is refused.
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
  'film',
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

const NODE_BUILTINS = { group: ['node:*', 'fs', 'path', 'os'], message: 'there is no Node in core, nor in a browser' };

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

/** The web application's own layers, lowest first: a folder may import from those before it, never from those after. */
export const WEB_LAYERS = ['platform', 'features', 'ui'];

/** What the layers of the web application may not import, beyond what lies above them. */
const WEB_EXTRA = {
  platform: [],
  features: [
    { group: ['react', 'react-dom', 'react-dom/*', 'react-aria-components'], message: 'features have no JSX' },
  ],
  ui: [{ group: ['**/platform/**'], message: 'ui asks features, which ask platform (CONTRIBUTING, The house)' }],
};

/** What a browser has and the rest of the world has not, or what makes two runs differ: platform wraps it. */
export const BROWSER_GLOBALS = (
  'window self document navigator location history screen visualViewport matchMedia localStorage ' +
  'sessionStorage indexedDB caches cookieStore crypto fetch XMLHttpRequest WebSocket EventSource ' +
  'BroadcastChannel Worker SharedWorker AudioContext OfflineAudioContext AudioWorkletNode Audio Image ' +
  'FileReader Notification addEventListener removeEventListener requestAnimationFrame ' +
  'cancelAnimationFrame requestIdleCallback getComputedStyle getSelection ResizeObserver ' +
  'IntersectionObserver MutationObserver PerformanceObserver alert confirm prompt open print Date ' +
  'performance'
).split(' ');

const ONLY_PLATFORM = 'only platform touches the browser: ask a feature, which asks platform';

const BROWSER_BANS = {
  'no-restricted-globals': ['error', ...BROWSER_GLOBALS.map((name) => ({ name, message: ONLY_PLATFORM }))],
  'no-restricted-properties': [
    'error',
    ...BROWSER_GLOBALS.map((property) => ({ object: 'globalThis', property, message: ONLY_PLATFORM })),
    { object: 'URL', property: 'createObjectURL', message: ONLY_PLATFORM },
    { object: 'Math', property: 'random', message: 'pass a RandomSource in' },
  ],
};

export default {
  plugins: ['typescript', 'import', 'unicorn', 'oxc', 'react', 'jsx-a11y'],
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
    // TypeScript sees it, and knows the imports that vite adds (?worker)
    'import/default': 'off',
    // a role on a paragraph that announces is as good as an <output>, and is a paragraph
    'jsx-a11y/prefer-tag-over-role': 'off',
    // the compiler's own runtime brings it in
    'react/react-in-jsx-scope': 'off',
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
    ...WEB_LAYERS.map((layer, index) => ({
      files: [`apps/web/src/${layer}/**`],
      rules: {
        ...(layer === 'platform' ? {} : BROWSER_BANS),
        'no-restricted-imports': [
          'error',
          { patterns: [...WEB_LAYERS.slice(index + 1).map(UP), ...WEB_EXTRA[layer], NODE_BUILTINS] },
        ],
      },
    })),
    {
      files: ['**/*.test.{ts,tsx}'],
      rules: { 'no-restricted-imports': 'off', 'no-restricted-globals': 'off', 'no-restricted-properties': 'off' },
    },
  ],
};
