/** Work that takes long runs in a thread of its own, so that no request waits for it. */
import { Worker } from 'node:worker_threads';

/** Tests and development run the sources themselves; a thread then needs the loader that understands them. */
const throughLoader = (file: URL): string =>
  `import('tsx/esm/api').then((tsx) => tsx.tsImport(${JSON.stringify(file.href)}, ${JSON.stringify(import.meta.url)}))`;

/** @param file the source of the thread beside the caller, `new URL('./some-worker.ts', import.meta.url)` */
export const startThread = (file: URL, workerData: object): Worker =>
  import.meta.url.endsWith('.ts')
    ? new Worker(throughLoader(file), { eval: true, workerData })
    : new Worker(new URL(file.href.replace(/\.ts$/, '.js')), { workerData });
