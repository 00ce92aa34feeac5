import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildApp } from './app.ts';
import { Backups, type Failure } from './backups/backups.ts';
import type { Job } from './backups/jobs.ts';
import { renderMissing } from './certificates/view-rendering.ts';
import { BadConfig, readConfig, type Config } from './config.ts';
import { UnfitConnection } from './db/connection.ts';
import { LogbookInUse } from './db/lock.ts';
import { openLogbook, UnwritableFolder } from './db/logbook.ts';
import { NewerLogbook } from './db/migrate.ts';
import { checkDoors, isLoopback, openListeners } from './doors/listeners.ts';
import { newCode } from './people/codes.ts';
import type { Fault } from './journal/verify.ts';
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

const pagesFolder = fileURLToPath(new URL('../pages', import.meta.url));

/** What outlasts the opening of another logbook in the same process. */
interface Round {
  /** Ports, once the system chose them, and everything else as it was. */
  config: Config;
  lastFailure: Failure | null;
}

interface Served {
  close(): Promise<void>;
  backups: Backups;
  /** The configuration with the ports that are really open. */
  config: Config;
}

const say = ({ staff, students, file, setupCode }: Record<string, string | null>): void => {
  console.log(`Tarebook is open at ${staff}`);
  if (students) console.log(`For classes: ${students}`);
  if (setupCode)
    console.log(`Nobody can sign in yet. To set up the first keeper: ${staff}/set-up with the code ${setupCode}`);
  console.log(`Logbook: ${file}. Stop with Ctrl-C.`);
};

const sayFault = (fault: Fault | null): void => {
  if (fault !== null) console.error(`The journal is not whole. ${fault.fault}`);
};

const portIn = (address: string, otherwise: number): number => Number(new URL(address).port || otherwise);

const open = async ({ config, lastFailure }: Round, onRestart: (job: Job) => void): Promise<Served> => {
  const tls = checkDoors(config);
  const logbook = await openLogbook(config.dataFolder);
  if (logbook.copyBeforeMigration !== null)
    console.log(`The logbook as it was is kept in ${logbook.copyBeforeMigration}.`);
  const watch = await watchFrom(logbook);
  sayFault(watch.fault);
  void watch.later?.then(sayFault);
  const setupCode = config.setupCode ?? newCode();
  const backups = new Backups(logbook, () => new Date(), { lastFailure });
  const app = await buildApp({
    logbook,
    pagesFolder: existsSync(pagesFolder) ? pagesFolder : null,
    setupCode,
    host: config.host,
    tls,
    plainHttp: tls === null && !isLoopback(config.host),
    backups,
    onRestart,
    journalFault: watch.fault,
    ...(watch.later && { laterFault: watch.later }),
    logger: { level: 'error', stream: process.stderr },
    securityLog: (line) => process.stderr.write(`${line}\n`),
  });
  const close = async (): Promise<void> => {
    await app.close();
    watch.end();
    await logbook.close();
  };
  try {
    const { staff, students } = await openListeners(app, config);
    const shownCode = app.desk?.setupNeeded === true ? setupCode : null;
    say({ staff, students, file: logbook.file, setupCode: shownCode });
    backups.startSchedule((detail) => console.error(`The backup failed. ${detail}`));
    const made = await renderMissing(logbook);
    if (made > 0) console.log(`${made} certificates had been issued without their paper; it is made now.`);
    const ports = {
      port: portIn(staff, config.port),
      classPort: students === null ? config.classPort : portIn(students, config.classPort),
    };
    return { close, backups, config: { ...config, ...ports } };
  } catch (error) {
    await close();
    throw error;
  }
};

/** @returns why the job was not done; null where it was */
const carryOut = async (job: Job, folder: string): Promise<Failure | null> => {
  try {
    await job(folder);
    return null;
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    console.error(`The logbook stays as it was. ${detail}`);
    return { at: new Date().toISOString(), detail };
  }
};

/** Serves until a signal ends it; opens again, same process and same port, after each job on the files. */
const serve = async (config: Config): Promise<void> => {
  let stop: () => void = () => undefined;
  const stopped = new Promise<null>((resolve) => (stop = () => resolve(null)));
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => stop());
  let round: Round = { config, lastFailure: null };
  for (;;) {
    let restart: (job: Job) => void = () => undefined;
    const wanted = new Promise<Job>((resolve) => (restart = resolve));
    const served = await open(round, restart);
    const job = await Promise.race([stopped, wanted]);
    await served.close();
    if (job === null) process.exit(0);
    const failure = await carryOut(job, config.dataFolder);
    round = { config: served.config, lastFailure: failure ?? served.backups.lastFailure };
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
