// @ts-check
/** `npm run soak`: the random tests once more, with many more cases than every change has time for. */
process.env['TAREBOOK_SOAK'] = '1';
process.argv.push(
  'test/metrology/referee.test.ts',
  'test/db/kill.program.test.ts',
  'test/db/torn.test.ts',
  'test/server/model.test.ts',
  'test/experiments/many.alone.test.ts',
);
await import('../run.mjs');
