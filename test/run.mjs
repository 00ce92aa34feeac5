// @ts-check
/**
 * `npm test`: compiles what changed, finds a browser, runs every test, and closes with a plain line that counts them.
 * Further words go to the runner: `npm test -- test/metrology`.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createRequire } from 'node:module';
import { tsImport } from 'tsx/esm/api';
import { buildOrExit, root } from '../.build/build.mjs';

const resultsFile = join(root, '.cache', 'test-results.json');

await buildOrExit(['server', 'pages']);
const chromium = await findBrowser();
process.exitCode = await runVitest(chromium);
closeWithCounts();

async function findBrowser() {
  /** @type {typeof import('./browser/find-chromium.ts')} */
  const { obtainChromium } = await tsImport('./browser/find-chromium.ts', import.meta.url);
  try {
    return await obtainChromium();
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exit(1);
  }
}

/**
 * @param {string} chromium
 * @returns {Promise<number>} the runner's exit code
 */
function runVitest(chromium) {
  mkdirSync(dirname(resultsFile), { recursive: true });
  rmSync(resultsFile, { force: true });
  const vitest = join(dirname(createRequire(import.meta.url).resolve('vitest/package.json')), 'vitest.mjs');
  const words = ['run', '--config', 'test/vitest.config.ts', '--reporter=default', '--reporter=json'];
  words.push(`--outputFile.json=${resultsFile}`, ...process.argv.slice(2));
  const child = spawn(process.execPath, [vitest, ...words], {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, TAREBOOK_CHROMIUM: chromium, TAREBOOK_BUILT: 'yes' },
  });
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (code) => resolve(code ?? 1));
  });
}

/** A file that could not be loaded and an error outside every test count as one failure each. */
function closeWithCounts() {
  const results = readResults();
  const broken = results.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  );
  const passed = results.numPassedTests;
  const skipped = results.numPendingTests + results.numTodoTests;
  const unrun = results.testResults.flatMap((file) =>
    file.assertionResults.filter((test) => !['passed', 'failed'].includes(test.status)),
  );
  for (const test of unrun) process.stdout.write(`Skipped: ${test.fullName}\n`);
  let failed = results.numFailedTests + broken.length;
  if (process.exitCode !== 0 && failed === 0) failed = 1;
  if (passed + failed === 0) {
    process.stderr.write('No test was run.\n');
    process.exitCode = 1;
  }
  if (failed > 0) process.exitCode = 1;
  const tail = skipped > 0 ? `, ${String(skipped)} skipped` : '';
  process.stdout.write(`${String(passed)} passed, ${String(failed)} failed${tail}\n`);
}

/**
 * @returns {{
 *   numPassedTests: number, numFailedTests: number, numPendingTests: number, numTodoTests: number,
 *   testResults: { status: string, assertionResults: { fullName: string, status: string }[] }[],
 * }}
 */
function readResults() {
  try {
    return JSON.parse(readFileSync(resultsFile, 'utf8'));
  } catch {
    return { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0, testResults: [] };
  }
}
