/** A logbook of its own in a temporary folder, with the application as the demonstration's load sees it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildApp, type App } from '../../server/app.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import type { Send } from '../../server/demo/send.ts';
import type { Vessel, VesselWithHistory } from '../../server/glassware/contract.ts';
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

  /** The same way to send, which keeps the id of each calibration it begins under the name the tables give it. */
  remembering(): { send: Send; begun: ReadonlyMap<string, string> } {
    const begun = new Map<string, string>();
    const send: Send = async (request) => {
      const reply = await this.send(request);
      const key = request.headers?.['idempotency-key'] ?? '';
      if (/^\/api\/vessels\/[^/]+\/calibrations$/.test(request.url))
        begun.set(key.replace('demo:', ''), (JSON.parse(reply.body) as { id: string }).id);
      return reply;
    };
    return { send, begun };
  }

  /** Present tags of the vessels a search finds. */
  async tagsFoundBy(words: string): Promise<string[]> {
    const page = await this.get<{ items: Vessel[] }>(`/api/vessels?search=${words}`);
    return page.items.map((vessel) => vessel.tag);
  }

  /** By its present tag or a former one. */
  async vesselTagged(tag: string): Promise<VesselWithHistory> {
    const page = await this.get<{ items: Vessel[] }>(`/api/vessels?search=${tag}`);
    return this.get<VesselWithHistory>(`/api/vessels/${page.items[0]?.id ?? ''}`);
  }

  async end(): Promise<void> {
    await this.#app.close();
    await this.logbook.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
