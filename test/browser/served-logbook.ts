/**
 * The built server as a program of its own, with a logbook of its own. It can be stopped, killed and started again at
 * the same address, as a server does that somebody trips over.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, renameSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const built = fileURLToPath(new URL('../../.dist/', import.meta.url));
const PATIENCE_MS = 30_000;

export interface Reply {
  status: number;
  body: Record<string, unknown>;
}

let keys = 0;

export const SETUP_CODE = 'browser-test-code';

export class ServedLogbook {
  readonly folder = mkdtempSync(path.join(tmpdir(), 'tarebook-browser-'));
  #program: ChildProcess | null = null;
  #port = 0;
  #classPort = 0;

  get address(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  /** Where phones of a class go. */
  get classAddress(): string {
    return `http://127.0.0.1:${this.#classPort}`;
  }

  /** Loads the invented laboratory; before the first start. It is made once for each build and copied from then on. */
  async loadDemonstration(): Promise<void> {
    const { mtimeMs } = statSync(path.join(built, 'server.stamp'));
    const kept = path.join(built, `../.cache/demonstration-${Math.round(mtimeMs)}`);
    if (existsSync(kept)) {
      cpSync(kept, this.folder, { recursive: true });
      return;
    }
    const child = this.#run('server/commands/main.js', 'demo');
    const said = listenTo(child);
    const code = await new Promise((resolve) => child.once('close', resolve));
    if (code !== 0) throw new Error(`The demonstration was not loaded.\n${said()}`);
    // Whole or not at all: another file may make its own at the same moment.
    const copy = `${kept}-${process.pid}`;
    cpSync(this.folder, copy, { recursive: true });
    try {
      renameSync(copy, kept);
    } catch {
      rmSync(copy, { recursive: true, force: true });
    }
  }

  async start(): Promise<void> {
    if (!existsSync(path.join(built, 'pages'))) throw new Error('The pages are not built. Run "npm run build" first.');
    const child = this.#run('server/main.js');
    this.#program = child;
    const said = listenTo(child);
    const until = Date.now() + PATIENCE_MS;
    while (Date.now() < until && child.exitCode === null && child.signalCode === null) {
      const port = /Tarebook is open at \S+:(\d+)/.exec(said())?.[1];
      const classPort = /For classes: \S+:(\d+)/.exec(said())?.[1];
      if (port !== undefined && classPort !== undefined) {
        this.#port = Number(port);
        this.#classPort = Number(classPort);
        return;
      }
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    throw new Error(`The server did not open.\n${said()}`);
  }

  /** Ends the program: in order, or all at once with SIGKILL. */
  async stop(signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM'): Promise<void> {
    const child = this.#program;
    this.#program = null;
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const gone = new Promise((resolve) => child.once('close', resolve));
    child.kill(signal);
    await gone;
  }

  async end(): Promise<void> {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true, maxRetries: 3 });
  }

  async send(method: 'GET' | 'POST' | 'PATCH', url: string, body?: object, version?: number): Promise<Reply> {
    const reply = await fetch(this.address + url, {
      method,
      headers: {
        'idempotency-key': `aside-${(keys += 1)}`,
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...(version === undefined ? {} : { 'if-match': `"${version}"` }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return { status: reply.status, body: (await reply.json()) as Record<string, unknown> };
  }

  /** What stands at an address; a refusal is an error. */
  async get<T>(url: string): Promise<T> {
    return accepted(url, await this.send('GET', url)) as T;
  }

  async post(url: string, body: object): Promise<Record<string, unknown>> {
    return accepted(url, await this.send('POST', url, body));
  }

  #run(script: string, ...words: string[]): ChildProcess {
    return spawn(process.execPath, [path.join(built, script), ...words], {
      env: {
        ...process.env,
        HOST: '127.0.0.1',
        PORT: String(this.#port),
        TAREBOOK_CLASS_HOST: '127.0.0.1',
        TAREBOOK_CLASS_PORT: String(this.#classPort),
        TAREBOOK_DATA: this.folder,
        TAREBOOK_SETUP_CODE: SETUP_CODE,
      },
    });
  }
}

function accepted(url: string, { status, body }: Reply): Record<string, unknown> {
  if (status >= 400) throw new Error(`${url} answered ${status}: ${JSON.stringify(body)}`);
  return body;
}

/** @returns what the program has said so far */
function listenTo(child: ChildProcess): () => string {
  let said = '';
  const hear = (chunk: Buffer) => (said += chunk.toString('utf8'));
  child.stdout?.on('data', hear);
  child.stderr?.on('data', hear);
  return () => said;
}
