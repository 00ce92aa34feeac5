import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildApp } from './app.ts';
import { renderMissing } from './certificates/view-rendering.ts';
import { BadConfig, readConfig, type Config } from './config.ts';
import { UnfitConnection } from './db/connection.ts';
import { LogbookInUse } from './db/lock.ts';
import { openLogbook, UnwritableFolder } from './db/logbook.ts';
import { NewerLogbook } from './db/migrate.ts';
import { checkDoors, isLoopback, openListeners } from './doors/listeners.ts';
import { newCode } from './people/codes.ts';
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
  const tls = checkDoors(config);
  const logbook = await openLogbook(config.dataFolder);
  if (logbook.copyBeforeMigration !== null)
    console.log(`The logbook as it was is kept in ${logbook.copyBeforeMigration}.`);
  const watch = await watchFrom(logbook);
  if (watch.fault !== null) console.error(`The journal is not whole. ${watch.fault.fault}`);
  const setupCode = config.setupCode ?? newCode();
  const app = await buildApp({
    logbook,
    pagesFolder: existsSync(pagesFolder) ? pagesFolder : null,
    setupCode,
    host: config.host,
    tls,
    plainHttp: tls === null && !isLoopback(config.host),
    logger: { level: 'error', stream: process.stderr },
    securityLog: (line) => process.stderr.write(`${line}\n`),
  });
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
    const { staff, students } = await openListeners(app, config);
    console.log(`Tarebook is open at ${staff}`);
    if (students !== null) console.log(`For classes: ${students}`);
    if (app.desk?.setupNeeded === true)
      console.log(`Nobody can sign in yet. To set up the first keeper: ${staff}/set-up with the code ${setupCode}`);
    console.log(`Logbook: ${logbook.file}. Stop with Ctrl-C.`);
    const made = await renderMissing(logbook);
    if (made > 0) console.log(`${made} certificates had been issued without their paper; it is made now.`);
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
