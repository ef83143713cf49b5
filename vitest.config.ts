import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['packages/*/src/**/*.test.ts', 'apps/*/src/**/*.test.ts', 'checks/**/*.test.ts', 'tools/**/*.test.ts'],
    testTimeout: 60_000,
  },
});
