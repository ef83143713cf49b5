import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    testTimeout: 60_000,
    // the first that asks for the workbench builds it, the others wait
    hookTimeout: 180_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'house',
          include: [
            'packages/*/src/**/*.test.ts',
            'apps/*/src/**/*.test.ts',
            'checks/**/*.test.ts',
            'tools/**/*.test.ts',
          ],
          exclude: ['**/node_modules/**', '**/dist/**', 'checks/web-*.test.ts'],
        },
      },
      {
        extends: true,
        test: {
          name: 'journeys',
          include: ['checks/web-*.test.ts'],
          // A browser, its sound and a build share the cores of whatever machine this is: what fails for want of time
          // passes at the second try, what is broken fails again.
          retry: 1,
        },
      },
    ],
  },
});
