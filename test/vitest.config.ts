import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Tests that drive a browser: two files at a time, since each mostly waits. */
const BROWSER = ['test/browser/**/*.test.ts'];
/** Tests that start programs of their own, two files at a time. */
const PROGRAMS = ['test/**/*.program.test.ts'];
/** Tests that watch the clock: one file at a time, after the others. */
const ALONE = ['test/**/*.alone.test.ts'];

/** Set where the server was built from these very sources a moment ago. */
const isBuilt = process.env['TAREBOOK_BUILT'] !== undefined;
const builtThreads = fileURLToPath(new URL('./built-threads.ts', import.meta.url));

export default defineConfig({
  resolve: { alias: isBuilt ? [{ find: /^(?:\.\.\/)+threads\.ts$/, replacement: builtThreads }] : [] },
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    allowOnly: false,
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
          exclude: [...BROWSER, ...PROGRAMS, ...ALONE],
          maxWorkers: 2,
          // These tests keep nothing in modules that another could trip over, and loading the server anew for each file
          // would take longer than all of them.
          isolate: false,
          testTimeout: 30_000,
          hookTimeout: 30_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: BROWSER,
          maxWorkers: 2,
          testTimeout: 180_000,
          hookTimeout: 180_000,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'programs',
          include: PROGRAMS,
          maxWorkers: 2,
          testTimeout: 90_000,
          hookTimeout: 90_000,
          sequence: { groupOrder: 2 },
        },
      },
      {
        extends: true,
        test: {
          name: 'alone',
          include: ALONE,
          maxWorkers: 1,
          fileParallelism: false,
          testTimeout: 90_000,
          hookTimeout: 90_000,
          sequence: { groupOrder: 3 },
        },
      },
    ],
  },
});
