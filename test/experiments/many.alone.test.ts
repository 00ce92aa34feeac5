/** Many classes at once, on a server of its own: nothing is refused, every board ends as the database has it. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { startTarebook } from '../bench/server-process.ts';
import { boardNow, joinGroup, openLesson, saveTrial, watchBoard, type Group, type Watched } from './over-the-wire.ts';

const isSoak = process.env['TAREBOOK_SOAK'] === '1';
const CLASSES = isSoak ? 20 : 2;
const PHONES_EACH = isSoak ? 30 : 8;
const BOARDS_EACH = 2;
const SECONDS = isSoak ? 600 : 4;
/** A group at work sends something every half minute or so; where time is short, more often. */
const PAUSE_MS = isSoak ? 25_000 : 500;
const MOST_TRIALS = 55;

interface Classroom {
  id: string;
  groups: Group[];
  boards: Watched[];
}

const residentMb = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

async function classroom(address: string): Promise<Classroom> {
  const { id, code } = await openLesson(address, PHONES_EACH);
  const groups: Group[] = [];
  for (let index = 0; index < PHONES_EACH; index += 1) groups.push(await joinGroup(address, code));
  const boards: Watched[] = [];
  for (let index = 0; index < BOARDS_EACH; index += 1) boards.push(await watchBoard(address, id));
  return { id, groups, boards };
}

/** Reads its page and saves a trial, again and again. @returns how many it saved */
async function atWork(address: string, group: Group, until: number): Promise<number> {
  let saved = 0;
  await pause(Math.random() * PAUSE_MS);
  while (Date.now() < until && saved < MOST_TRIALS) {
    const page = await fetch(address + group.url, { headers: { cookie: group.cookie } });
    expect(page.status).toBe(200);
    await page.arrayBuffer();
    saved = await saveTrial(address, group, (160.8 + Math.random() / 10).toFixed(2));
    await pause(PAUSE_MS);
  }
  return saved;
}

it(
  `${CLASSES * PHONES_EACH} phones and ${CLASSES * BOARDS_EACH} boards for ${SECONDS} s`,
  async () => {
    const tarebook = await startTarebook();
    const address = `http://127.0.0.1:${tarebook.port}`;
    try {
      const classes: Classroom[] = [];
      for (let index = 0; index < CLASSES; index += 1) classes.push(await classroom(address));
      const until = Date.now() + SECONDS * 1000;
      const work = classes.flatMap(({ groups }) => groups.map((group) => atWork(address, group, until)));
      await pause(SECONDS * 250);
      const early = residentMb(tarebook.pid);
      const saved = await Promise.all(work);
      const late = residentMb(tarebook.pid);
      expect(Math.min(...saved)).toBeGreaterThan(0);
      for (const { id, boards } of classes) {
        const kept = await boardNow(address, id);
        for (const board of boards)
          await expect.poll(() => board.latest()?.change, { timeout: 10_000 }).toBe(kept.change);
        for (const board of boards) expect(board.latest()).toEqual(kept);
      }
      const counted = await Promise.all(classes.map(async ({ id }) => (await boardNow(address, id)).trials.length));
      expect(counted.reduce((sum, count) => sum + count, 0)).toBe(saved.reduce((sum, count) => sum + count, 0));
      // A leak of every board sent would be gigabytes by then.
      if (isSoak) expect(late).toBeLessThan(1.5 * early);
      for (const { boards } of classes) for (const board of boards) board.close();
    } finally {
      await tarebook.stop();
    }
  },
  SECONDS * 1000 + 120_000,
);
