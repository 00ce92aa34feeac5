// @ts-check
/**
 * Checks the arrows of .dependency-cruiser.cjs and prints each import that breaks one. A check that has read nothing
 * would pass, so it also fails when a part of the house is missing from what it read.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { root } from './build.mjs';

const PARTS = { 'server/': 20, 'web/': 10, 'migrations/': 1 };

const tool = join(root, 'node_modules', 'dependency-cruiser', 'bin', 'dependency-cruise.mjs');
const words = ['--config', '.dependency-cruiser.cjs', '--output-type', 'json', 'server', 'web', 'migrations'];
const done = spawnSync(process.execPath, [tool, ...words], {
  cwd: root,
  encoding: 'utf8',
  maxBuffer: 256 * 1024 * 1024,
});
if (done.stdout.trim() === '') fail(`The dependency check printed nothing.\n${done.stderr}`);

/** @type {import('dependency-cruiser').ICruiseResult} */
const result = JSON.parse(done.stdout);
const complaints = result.summary.violations
  .filter((violation) => violation.rule.severity === 'error')
  .map((violation) => `${violation.rule.name}: ${violation.from} → ${violation.to}`);

for (const [part, least] of Object.entries(PARTS)) {
  const read = result.modules.filter((module) => module.source.startsWith(part) && /\.tsx?$/.test(module.source));
  if (read.length < least) complaints.push(`only ${String(read.length)} modules of ${part} were read`);
}
if (complaints.length > 0) fail(complaints.join('\n'));
process.stdout.write(`${String(result.summary.totalDependenciesCruised ?? 0)} imports follow the arrows.\n`);

/** @param {string} text */
function fail(text) {
  process.stderr.write(`${text}\n`);
  process.exit(1);
}
