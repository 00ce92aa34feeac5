/** An open lesson, groups that joined it, and a board that watches, all over the wire. Invented. */
import { randomUUID } from 'node:crypto';

export interface Lesson {
  id: string;
  code: string;
}

export interface Group {
  /** The address of the group, from /api on. */
  url: string;
  number: number;
  cookie: string;
}

async function ask(address: string, body?: unknown): Promise<{ body: unknown; cookie: string }> {
  const reply = await fetch(address, {
    method: body === undefined ? 'GET' : 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID() },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await reply.text();
  if (!reply.ok) throw new Error(`${address} answered ${reply.status}: ${text}`);
  return { body: JSON.parse(text), cookie: reply.headers.get('set-cookie')?.split(';')[0] ?? '' };
}

/** One flask, many hands; on a server at which nobody is set up. */
export async function openLesson(
  address: string,
  expectedGroups: number,
  asks = { prediction: true, within: true, sureness: true },
): Promise<Lesson> {
  const plan = { template: 'one-flask-many-hands', expectedGroups, lessonMinutes: 480, asks };
  const { id } = (await ask(`${address}/api/experiments`, plan)).body as { id: string };
  await ask(`${address}/api/experiments/${id}/opening`, {});
  const { code } = (await ask(`${address}/api/experiments/${id}/joining`)).body as { code: string };
  return { id, code };
}

export async function joinGroup(address: string, code: string): Promise<Group> {
  const { body, cookie } = await ask(`${address}/api/class/join`, { code });
  const { experimentId, groupId } = body as { experimentId: string; groupId: string };
  const url = `/api/experiments/${experimentId}/groups/${groupId}`;
  const page = await fetch(address + url, { headers: { cookie } });
  const { group } = (await page.json()) as { group: { number: number } };
  return { url, number: group.number, cookie };
}

export interface SeenBoard {
  change: number;
  trials: { group: number; number: number }[];
}

export interface Watched {
  /** The newest board. */
  latest(): SeenBoard | null;
  /** Resolves with the moment at which this trial stood on the board. */
  seen(group: number, trial: number): Promise<number>;
  close(): void;
}

/** A board as a projector shows it. */
export async function watchBoard(address: string, experimentId: string): Promise<Watched> {
  const ending = new AbortController();
  const reply = await fetch(`${address}/api/experiments/${experimentId}/board/stream`, { signal: ending.signal });
  if (!reply.body) throw new Error(`The board answered ${reply.status}.`);
  const arrived = new Map<string, number>();
  const waiting = new Map<string, (at: number) => void>();
  let latest: SeenBoard | null = null;
  const take = (board: SeenBoard) => {
    latest = board;
    const at = performance.now();
    for (const { group, number } of board.trials) {
      const key = `${group} ${number}`;
      if (arrived.has(key)) continue;
      arrived.set(key, at);
      waiting.get(key)?.(at);
    }
  };
  void readEvents(reply.body, take).catch((error: unknown) => {
    if (!ending.signal.aborted) throw error;
  });
  return {
    latest: () => latest,
    seen: (group, trial) => {
      const key = `${group} ${trial}`;
      const at = arrived.get(key);
      return at === undefined ? new Promise((resolve) => waiting.set(key, resolve)) : Promise.resolve(at);
    },
    close: () => ending.abort(),
  };
}

async function readEvents(body: ReadableStream<Uint8Array>, take: (board: SeenBoard) => void): Promise<void> {
  let text = '';
  const decoder = new TextDecoder();
  for await (const chunk of body as unknown as AsyncIterable<Uint8Array>) {
    text += decoder.decode(chunk, { stream: true });
    const events = text.split('\n\n');
    text = events.pop() ?? '';
    for (const event of events) {
      const data = /^data: (.*)$/m.exec(event)?.[1];
      if (data !== undefined) take(JSON.parse(data) as SeenBoard);
    }
  }
}

/** Saves one trial. @returns its number */
export async function saveTrial(address: string, { url, cookie }: Group, filledG: string): Promise<number> {
  const reply = await fetch(`${address}${url}/trials`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID(), cookie },
    body: JSON.stringify({ row: 'flask', emptyG: '61.20', filledG, waterTemperatureC: '21.3' }),
  });
  const text = await reply.text();
  if (reply.status !== 201) throw new Error(`A trial was answered ${reply.status}: ${text}`);
  return (JSON.parse(text) as { number: number }).number;
}

/** The board as the database has it. */
export async function boardNow(address: string, experimentId: string): Promise<SeenBoard> {
  const { body } = await ask(`${address}/api/experiments/${experimentId}/board`);
  return (body as { board: SeenBoard }).board;
}
