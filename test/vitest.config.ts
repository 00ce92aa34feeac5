import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    root: new URL('..', import.meta.url).pathname,
    testTimeout: 30_000,
  },
});
