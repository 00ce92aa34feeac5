/** The real server as a program of its own, on a port and a folder of its own. */
import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const PATIENCE_MS = 30_000;

/**
 * The built program, which starts faster, where it is newer than every source; the sources otherwise.
 * @param module of the server, without its ending
 */
const program = (module: string): string[] => {
  const stamp = path.join(root, '.dist', 'server.stamp');
  const built = existsSync(stamp) ? statSync(stamp).mtimeMs : 0;
  const changed = ['server', 'migrations', 'fixtures/tables']
    .flatMap((folder) => readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true }))
    .some((entry) => statSync(path.join(entry.parentPath, entry.name)).mtimeMs > built);
  return changed ? ['--import', 'tsx', `server/${module}.ts`] : [`.dist/server/${module}.js`];
};

export interface Ending {
  code: number | null;
  signal: NodeJS.Signals | null;
  said: string;
  warned: string;
}

export class Child {
  readonly process: ChildProcess;
  readonly ended: Promise<Ending>;
  #said = '';
  #warned = '';

  constructor(environment: Record<string, string>) {
    const env = { ...process.env, HOST: '', PORT: '0', ...environment };
    this.process = spawn(process.execPath, program('main'), { cwd: root, env });
    this.process.stdout?.on('data', (chunk: Buffer) => (this.#said += chunk.toString('utf8')));
    this.process.stderr?.on('data', (chunk: Buffer) => (this.#warned += chunk.toString('utf8')));
    this.ended = new Promise((resolve, reject) => {
      this.process.once('error', reject);
      this.process.once('close', (code, signal) => {
        resolve({ code, signal, said: this.#said, warned: this.#warned });
      });
    });
  }

  /** What it printed so far. */
  get said(): string {
    return this.#said;
  }

  /** @returns the address it answers at, once it does */
  async address(): Promise<string> {
    const until = Date.now() + PATIENCE_MS;
    while (Date.now() < until && this.process.exitCode === null) {
      const address = /Tarebook is open at (\S+)/.exec(this.#said)?.[1];
      if (address !== undefined) return address;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    this.process.kill('SIGKILL');
    throw new Error(`The server did not open.\n${this.#said}${this.#warned}`);
  }

  async stop(signal: NodeJS.Signals): Promise<Ending> {
    this.process.kill(signal);
    return this.ended;
  }
}

export interface Sent {
  status: number;
  body: Record<string, unknown>;
}

/** Rejects when the connection breaks before the answer. */
export const postTo = async (address: string, path: string, key: string, body: unknown): Promise<Sent> => {
  const reply = await fetch(`${address}${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': key },
    body: JSON.stringify(body),
  });
  return { status: reply.status, body: (await reply.json()) as Record<string, unknown> };
};

/** A word of the command line, as a person calls it, for the logbook of that folder. */
export const callWord = (folder: string, ...words: string[]): Promise<Omit<Ending, 'signal'>> =>
  new Promise((resolve, reject) => {
    const env = { ...process.env, TAREBOOK_DATA: folder };
    const child = spawn(process.execPath, [...program('commands/main'), ...words], { cwd: root, env });
    let [said, warned] = ['', ''];
    child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString('utf8')));
    child.stderr.on('data', (chunk: Buffer) => (warned += chunk.toString('utf8')));
    child.once('error', reject);
    child.once('close', (code) => resolve({ code, said, warned }));
  });
