import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['packages/*/src/**/*.test.ts', 'apps/*/src/**/*.test.ts', 'checks/**/*.test.ts', 'tools/**/*.test.ts'],
    testTimeout: 60_000,
    // the first that asks for the workbench builds it, the others wait
    hookTimeout: 180_000,
  },
});
