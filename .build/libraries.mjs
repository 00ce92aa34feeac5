// @ts-check
/**
 * `node .build/libraries.mjs FOLDER`, with the folder of the compiled server: a program of its own, since the bundler
 * changes the environment of the process it runs in. Packs libraries that come as hundreds of small files into a few,
 * and lets the compiled server load those: reading the small ones took most of the time until the first answer. Only
 * plain JavaScript that nothing but our own code shares state with; everything else is loaded from its package.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const PACKED = [
  'kysely',
  'zod',
  'fastify-type-provider-zod',
  '@stdlib/stats-base-dists-f-quantile',
  '@stdlib/stats-base-dists-t-quantile',
  '@stdlib/stats-base-dists-t-cdf',
  '@stdlib/stats-base-dists-normal-quantile',
  '@stdlib/stats-base-dists-normal-cdf',
];
/** Shared with the server itself, so never a second copy. */
const LEFT_OUT = ['fastify', '@fastify/swagger', '@fastify/error'];
const FOLDER = 'libraries';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const [made = ''] = process.argv.slice(2);

async function packLibraries() {
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    ssr: { noExternal: true, external: LEFT_OUT },
    build: {
      ssr: true,
      outDir: join(made, FOLDER),
      target: 'node20',
      minify: false,
      rollupOptions: {
        input: Object.fromEntries(PACKED.map((name) => [fileName(name), name])),
        output: { entryFileNames: '[name].js' },
      },
    },
  });
  for (const folder of ['server', 'migrations']) usePacked(folder);
}

/** @param {string} folder */
function usePacked(folder) {
  for (const name of readdirSync(join(made, folder), { recursive: true, encoding: 'utf8' })) {
    if (!name.endsWith('.js')) continue;
    const file = join(made, folder, name);
    const compiled = readFileSync(file, 'utf8');
    const packed = compiled.replaceAll(/(\bfrom ')([^'.][^']*)(')/g, (whole, before, library, after) =>
      PACKED.includes(library) ? `${before}${addressOf(library, dirname(file))}${after}` : whole,
    );
    if (packed !== compiled) writeFileSync(file, packed);
  }
}

/**
 * @param {string} library
 * @param {string} from
 */
const addressOf = (library, from) =>
  relative(from, join(made, FOLDER, `${fileName(library)}.js`))
    .split(sep)
    .join('/');

/** @param {string} library */
const fileName = (library) => library.replaceAll('@', '').replaceAll('/', '-');

await packLibraries();
