// @ts-check
/**
 * `node server/launch.mjs start` and `node server/launch.mjs tarebook <word …>`: compiles what changed, then runs it in
 * this same process, so that Ctrl-C and SIGTERM reach the server itself. Plain JavaScript: it runs before any compiling.
 */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const OLDEST_NODE = { major: 20, minor: 19 };

const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (major < OLDEST_NODE.major || (major === OLDEST_NODE.major && minor < OLDEST_NODE.minor)) {
  const oldest = `${String(OLDEST_NODE.major)}.${String(OLDEST_NODE.minor)}`;
  process.stderr.write(`Tarebook needs Node.js ${oldest} or newer; this is ${process.versions.node}.\n`);
  process.exit(1);
}

const [word, ...rest] = process.argv.slice(2);
if (word !== 'start' && word !== 'tarebook') {
  process.stderr.write('Use: npm start, or npm run tarebook -- <word>\n');
  process.exit(1);
}

const { buildOrExit, root } = await import('../.build/build.mjs');
await buildOrExit(word === 'start' ? ['server', 'pages'] : ['server']);

const entry = join(root, '.dist', 'server', ...(word === 'start' ? ['main.js'] : ['commands', 'main.js']));
process.argv = [process.execPath, entry, ...rest];
await import(pathToFileURL(entry).href);
