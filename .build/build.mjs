// @ts-check
/**
 * Compiles Tarebook when its sources differ from those last compiled. Plain JavaScript, because it runs before anything
 * is compiled. Two parts: `server` (tsc: server, migrations, fixtures) and `pages` (vite), each with a stamp in .dist
 * that holds the fingerprint of the sources it was made from. A part is made in a folder of its own and put in place
 * when whole, so a failed or interrupted build leaves what stood before, and two starts at once build once.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { constants } from 'node:os';
import { dirname, join, relative, sep } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

/** @typedef {'server' | 'pages'} Part */

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, '.dist');
const require = createRequire(import.meta.url);

const SHARED_SOURCES = ['tsconfig.json', 'package.json', 'package-lock.json', '.build'];
/** Files that are read at run time and that the compiler does not carry over. */
const DATA_FOLDERS = ['server', 'migrations', 'fixtures/tables', 'fixtures/demo'];

const PARTS = {
  server: {
    // The plots of the pages are on paper too.
    sources: ['server', 'migrations', 'fixtures/tables', 'fixtures/demo', 'web/plots', ...SHARED_SOURCES],
    folders: ['server', 'migrations', 'fixtures', 'web', 'libraries'],
  },
  pages: {
    sources: ['web', 'server/metrology', 'server/problem-codes.ts', 'fixtures/tables', ...SHARED_SOURCES],
    folders: ['pages'],
  },
};

export class BuildFailed extends Error {}

/**
 * Makes the parts that are out of date.
 * @param {Part[]} parts
 * @throws {BuildFailed} with the compiler's own message
 */
export async function ensureBuilt(parts) {
  const stale = parts.filter((part) => readStamp(part) !== fingerprint(part));
  if (stale.length === 0) return;
  // On stderr: what a command prints on stdout may be read by another program.
  process.stderr.write('Building Tarebook (first start or changed sources)…\n');
  await Promise.all(stale.map(buildPart));
}

/** @param {Part} part */
async function buildPart(part) {
  const release = await takeLock(part);
  try {
    const print = fingerprint(part);
    if (readStamp(part) === print) return; // another start built it while this one waited
    for (const name of readdirSync(root)) if (name.startsWith(`.dist-${part}-`)) removeFolder(join(root, name));
    const made = join(root, `.dist-${part}-${String(process.pid)}`);
    try {
      await (part === 'server' ? compileServer(made) : bundlePages(made));
      putInPlace(part, made, print);
    } finally {
      removeFolder(made);
    }
  } finally {
    release();
  }
}

/** @param {string} made */
async function compileServer(made) {
  await runTool(findTool('typescript', 'bin/tsc'), ['-p', '.build/tsconfig.server.json', '--outDir', made]);
  for (const folder of DATA_FOLDERS) {
    for (const file of listFiles(join(root, folder))) {
      if (/\.(ts|tsx)$|launch\.mjs$/.test(file)) continue;
      cpSync(file, join(made, relative(root, file)));
    }
  }
  await runTool(join(root, '.build', 'libraries.mjs'), [made]);
}

/** @param {string} made */
async function bundlePages(made) {
  const target = join(made, 'pages');
  await runTool(findTool('vite', 'bin/vite.js'), [
    ...['build', '--config', join(root, 'web', 'vite.config.ts'), '--outDir', target],
    ...['--emptyOutDir', '--logLevel', 'warn'],
  ]);
}

/**
 * @param {Part} part
 * @param {string} made
 * @param {string} print
 */
function putInPlace(part, made, print) {
  mkdirSync(dist, { recursive: true });
  rmSync(stampFile(part), { force: true });
  for (const folder of PARTS[part].folders) {
    removeFolder(join(dist, folder));
    if (existsSync(join(made, folder))) renameSync(join(made, folder), join(dist, folder));
  }
  writeFileSync(stampFile(part), print);
}

/**
 * A lock that the system frees when this process dies: an open transaction on a small SQLite file.
 * @param {Part} part
 * @returns {Promise<() => void>} releases it
 */
async function takeLock(part) {
  const { default: Database } = await import('better-sqlite3').catch(refuseUninstalled);
  mkdirSync(join(root, '.cache'), { recursive: true });
  const lock = new Database(join(root, '.cache', `build-${part}.lock`), { timeout: 0 });
  for (;;) {
    try {
      lock.exec('BEGIN EXCLUSIVE');
      return () => lock.close();
    } catch (error) {
      if (!(error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY'))) throw error;
      await sleep(100);
    }
  }
}

/**
 * Tools at work; they end with this process, however it ends.
 * @type {Set<import('node:child_process').ChildProcess>}
 */
const running = new Set();
process.on('exit', () => running.forEach((child) => child.kill()));
const interrupted = (/** @type {NodeJS.Signals} */ signal) => process.exit(128 + constants.signals[signal]);

/**
 * Runs a JavaScript tool with this Node.
 * @param {string} script
 * @param {string[]} words
 */
async function runTool(script, words) {
  const child = spawn(process.execPath, [script, ...words], { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
  running.add(child);
  process.on('SIGINT', interrupted).on('SIGTERM', interrupted);
  let output = '';
  child.stdout.on('data', (/** @type {Buffer} */ chunk) => (output += chunk.toString('utf8')));
  child.stderr.on('data', (/** @type {Buffer} */ chunk) => (output += chunk.toString('utf8')));
  /** @type {number | null} */
  const code = await new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  running.delete(child);
  process.off('SIGINT', interrupted).off('SIGTERM', interrupted);
  if (code !== 0) throw new BuildFailed(output.trim() || `${script} ended with ${String(code)}`);
}

/**
 * @param {string} packageName
 * @param {string} script
 */
function findTool(packageName, script) {
  try {
    return join(dirname(require.resolve(`${packageName}/package.json`)), script);
  } catch {
    return refuseUninstalled();
  }
}

/** @returns {never} */
function refuseUninstalled() {
  throw new BuildFailed('The packages are not installed yet. Run "npm ci" first.');
}

/**
 * Hash of names and contents, so that it changes with a deleted file and with an older one put back.
 * @param {Part} part
 */
function fingerprint(part) {
  const hash = createHash('sha256').update(process.versions.modules);
  for (const source of PARTS[part].sources) {
    for (const file of listFiles(join(root, source))) {
      const content = readFileSync(file);
      hash.update(`${relative(root, file).split(sep).join('/')}\0${String(content.length)}\0`).update(content);
    }
  }
  return hash.digest('hex');
}

/**
 * All files below a folder, or the file itself, in a fixed order; editors' own files (.name, name~) are left out.
 * @param {string} path
 * @returns {string[]}
 */
function listFiles(path) {
  if (!existsSync(path)) return [];
  /** @type {import('node:fs').Dirent[]} */
  let entries;
  try {
    entries = readdirSync(path, { withFileTypes: true });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOTDIR') return [path];
    throw error;
  }
  return entries
    .filter((entry) => !entry.name.startsWith('.') && !entry.name.endsWith('~'))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => (entry.isDirectory() ? listFiles(join(path, entry.name)) : [join(path, entry.name)]));
}

/** @param {Part} part */
const stampFile = (part) => join(dist, `${part}.stamp`);

/** @param {Part} part */
const readStamp = (part) => (existsSync(stampFile(part)) ? readFileSync(stampFile(part), 'utf8') : '');

/** @param {string} path */
const removeFolder = (path) => rmSync(path, { recursive: true, force: true, maxRetries: 3 });

/**
 * `ensureBuilt` for a program: a failure is printed as the compiler said it, and ends the process.
 * @param {Part[]} parts
 */
export async function buildOrExit(parts) {
  try {
    await ensureBuilt(parts);
  } catch (error) {
    if (!(error instanceof BuildFailed)) throw error;
    process.stderr.write(`${error.message}\nThe build failed.\n`);
    process.exit(1);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildOrExit(['server', 'pages']);
