import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildApp } from './app.ts';
import { BadConfig, readConfig, type Config } from './config.ts';
import { UnfitConnection } from './db/connection.ts';
import { LogbookInUse } from './db/lock.ts';
import { openLogbook, UnwritableFolder } from './db/logbook.ts';
import { NewerLogbook } from './db/migrate.ts';
import { watchFrom } from './journal/watch.ts';

/** Reasons not to start that a person can do something about; each is one plain sentence. */
const PLAIN = [BadConfig, UnfitConnection, LogbookInUse, UnwritableFolder, NewerLogbook];

const sentence = (error: unknown, config: Config | null): string | null => {
  if (PLAIN.some((kind) => error instanceof kind)) return (error as Error).message;
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  const port = String(config?.port ?? '');
  if (code === 'EADDRINUSE') return `Port ${port} is in use by another program. Choose another one with PORT.`;
  if (code === 'EACCES') return `Port ${port} needs more rights than this account has. Choose another one with PORT.`;
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
    return `This machine has no address ${config?.host}. Choose another one with HOST.`;
  if (code === 'SQLITE_NOTADB') return `The file tarebook.db in ${config?.dataFolder} is not a logbook.`;
  return null;
};

const pagesFolder = fileURLToPath(new URL('../web', import.meta.url));

const serve = async (config: Config): Promise<void> => {
  const logbook = await openLogbook(config.dataFolder);
  if (logbook.copyBeforeMigration !== null)
    console.log(`The logbook as it was is kept in ${logbook.copyBeforeMigration}.`);
  const watch = await watchFrom(logbook);
  if (watch.fault !== null) console.error(`The journal is not whole. ${watch.fault.fault}`);
  const app = await buildApp({ logbook, pagesFolder: existsSync(pagesFolder) ? pagesFolder : null });
  let stopping = false;
  const stop = async (): Promise<void> => {
    if (stopping) return;
    stopping = true;
    await app.close();
    watch.end();
    await logbook.close();
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());
  try {
    const address = await app.listen({ host: config.host, port: config.port });
    console.log(`Tarebook is open at ${address}`);
    console.log(`Logbook: ${logbook.file}. Stop with Ctrl-C.`);
  } catch (error) {
    watch.end();
    await logbook.close();
    throw error;
  }
};

let config: Config | null = null;
try {
  config = readConfig(process.env);
  await serve(config);
} catch (error) {
  const plain = sentence(error, config);
  console.error(plain ?? error);
  process.exitCode = 1;
}
