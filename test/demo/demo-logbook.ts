/** A logbook of its own in a temporary folder, with the application as the demonstration's load sees it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildApp, type App } from '../../server/app.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import type { Send } from '../../server/demo/send.ts';
import { CONSOLE_ACTOR } from '../../server/people/access.ts';

export class DemoLogbook {
  readonly folder: string;
  readonly logbook: Logbook;
  readonly #app: App;

  private constructor(folder: string, logbook: Logbook, app: App) {
    this.folder = folder;
    this.logbook = logbook;
    this.#app = app;
  }

  static async open(): Promise<DemoLogbook> {
    const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-demo-'));
    const logbook = await openLogbook(folder);
    return new DemoLogbook(folder, logbook, await buildApp({ logbook, pagesFolder: null, actor: CONSOLE_ACTOR }));
  }

  readonly send: Send = (request) => this.#app.inject(request);

  async get<T>(url: string): Promise<T> {
    const reply = await this.#app.inject({ method: 'GET', url });
    if (reply.statusCode !== 200) throw new Error(`${url} answered ${reply.statusCode}: ${reply.body}`);
    return reply.json();
  }

  async end(): Promise<void> {
    await this.#app.close();
    await this.logbook.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
