/** A stockroom of many years, 20 000 vessels and 4 million trials: how long history, search and the plan take. */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { atMost, quantile, remark } from './measure.ts';
import type { Measure } from './measure.ts';
import { startTarebook } from './server-process.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const VESSELS = 20_000;
const TERMS = 20;
const TRIALS = 10;
const ASKED = 100;
const WARM_UP = 5;

/** The logbook, made once for each version of the program and kept in the git-ignored folder. */
async function sizeLogbook(): Promise<string> {
  const { VERSION } = (await import(join(root, '.dist', 'server', 'version.js'))) as { VERSION: string };
  const kept = join(root, '.cache', `size-${VERSION}`);
  if (existsSync(kept)) return kept;
  const making = `${kept}-making`;
  rmSync(making, { recursive: true, force: true });
  mkdirSync(making, { recursive: true });
  remark(`making ${VESSELS * TERMS * TRIALS} trials in ${kept}, once`);
  const words = ['seed', '--vessels', String(VESSELS), '--terms', String(TERMS), '--trials', String(TRIALS)];
  const child = spawn(process.execPath, [join(root, '.dist', 'server', 'commands', 'main.js'), ...words], {
    cwd: root,
    env: { ...process.env, TAREBOOK_DATA: making },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const code = await new Promise((resolve) => child.once('close', resolve));
  if (code !== 0) throw new Error(`The stockroom was not made: the command ended with ${String(code)}.`);
  renameSync(making, kept);
  return kept;
}

async function ask(address: string): Promise<unknown> {
  const reply = await fetch(address);
  const body: unknown = await reply.json();
  if (!reply.ok) throw new Error(`${address} answered ${reply.status}`);
  return body;
}

/** Milliseconds of each of the questions, one after the other. */
async function millisecondsOf(addresses: readonly string[]): Promise<number[]> {
  for (const address of addresses.slice(0, WARM_UP)) await ask(address);
  const taken: number[] = [];
  for (const address of addresses) {
    const asked = performance.now();
    await ask(address);
    taken.push(performance.now() - asked);
  }
  return taken;
}

interface Listed {
  id: string;
  tag: string;
}

/** Vessels from all over the register, named by how their tags begin. */
async function someVessels(api: string): Promise<Listed[]> {
  const { items } = (await ask(`${api}/vessels?limit=200`)) as { items: Listed[] };
  const step = Math.max(1, Math.floor(items.length / ASKED));
  return items.filter((_, index) => index % step === 0).slice(0, ASKED);
}

export async function size(): Promise<Measure[]> {
  const tarebook = await startTarebook(await sizeLogbook());
  try {
    const api = `http://127.0.0.1:${tarebook.port}/api`;
    const vessels = await someVessels(api);
    const history = await millisecondsOf(
      vessels.flatMap(({ id }) => [`${api}/vessels/${id}`, `${api}/vessels/${id}/over-time`]),
    );
    const search = await millisecondsOf(
      vessels.map(({ tag }) => `${api}/vessels?search=${encodeURIComponent(tag.slice(0, -1))}`),
    );
    const soon = new Date(Date.now() + 30 * 86_400_000).toISOString().slice(0, 10);
    const due = await millisecondsOf(
      Array.from({ length: ASKED }, (_, index) => (index % 2 === 0 ? `${api}/today` : `${api}/vessels?dueBy=${soon}`)),
    );
    remark(`first answer after ${tarebook.firstAnswerS.toFixed(1)} s; ${vessels.length} vessels asked`);
    return [
      atMost('size.history-p95-ms', quantile(history, 0.95), 'ms', 200),
      atMost('size.search-p95-ms', quantile(search, 0.95), 'ms', 200),
      atMost('size.due-p95-ms', quantile(due, 0.95), 'ms', 200),
      atMost('size.start-s', tarebook.firstAnswerS, 's', 3),
    ];
  } finally {
    await tarebook.stop();
  }
}
