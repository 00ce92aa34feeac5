/** The built server in a process of its own, on an empty logbook and a free port. */
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const PATIENCE_MS = 20_000;

export interface RunningServer {
  port: number;
  pid: number;
  /** Seconds from the start of the process to its first answer. */
  firstAnswerS: number;
  stop(): Promise<void>;
}

/** Starts Tarebook and waits for its first answer; on an empty logbook, unless the folder of one is given to keep. */
export async function startTarebook(kept?: string): Promise<RunningServer> {
  const folder = kept ?? mkdtempSync(join(tmpdir(), 'tarebook-bench-'));
  const port = await freePort();
  const environment = { ...process.env, HOST: '127.0.0.1', PORT: String(port), TAREBOOK_DATA: folder };
  const toRemove = kept === undefined ? folder : null;
  return start([join(root, '.dist', 'server', 'main.js')], environment, toRemove, port, '/api/health');
}

/** Starts what Tarebook's saving is compared with. */
export async function startBareServer(): Promise<RunningServer> {
  const folder = mkdtempSync(join(tmpdir(), 'bare-bench-'));
  const port = await freePort();
  const script = fileURLToPath(new URL('bare-server.ts', import.meta.url));
  return start(['--import', 'tsx', script, folder, String(port)], process.env, folder, port, '/health');
}

async function start(
  words: string[],
  environment: NodeJS.ProcessEnv,
  toRemove: string | null,
  port: number,
  healthPath: string,
): Promise<RunningServer> {
  const started = process.hrtime.bigint();
  const child = spawn(process.execPath, words, { cwd: root, env: environment, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => (said = (said + chunk.toString('utf8')).slice(-4000)));
  child.stderr.on('data', (chunk: Buffer) => (said = (said + chunk.toString('utf8')).slice(-4000)));
  const stop = async () => {
    await ended(child);
    if (toRemove !== null) rmSync(toRemove, { recursive: true, force: true });
  };
  try {
    await firstAnswer(child, `http://127.0.0.1:${port}${healthPath}`);
  } catch (error) {
    await stop();
    throw new Error(`${error instanceof Error ? error.message : String(error)}\n${said}`, { cause: error });
  }
  return { port, pid: child.pid ?? 0, firstAnswerS: Number(process.hrtime.bigint() - started) / 1e9, stop };
}

/** Asks again every few milliseconds, as a person's browser would not, so that the wait measured is the server's. */
async function firstAnswer(child: ChildProcess, address: string): Promise<void> {
  const until = Date.now() + PATIENCE_MS;
  while (Date.now() < until) {
    if (child.exitCode !== null) throw new Error(`The server ended with ${child.exitCode} before it answered.`);
    const answered = await fetch(address).then(
      async (reply) => {
        await reply.arrayBuffer();
        return reply.ok;
      },
      () => false,
    );
    if (answered) return;
    await new Promise((resolve) => setTimeout(resolve, 4));
  }
  throw new Error(`No answer from ${address} within ${PATIENCE_MS / 1000} s.`);
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGTERM');
  const hard = setTimeout(() => child.kill('SIGKILL'), 10_000);
  await gone;
  clearTimeout(hard);
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}
