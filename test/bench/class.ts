/** A class at work: 30 groups save in bursts while a board streams; how long a save takes, and how soon its dot is there. */
import { atMost, quantile, remark } from './measure.ts';
import type { Measure } from './measure.ts';
import { joinGroup, openLesson, saveTrial, watchBoard, type Group } from '../experiments/over-the-wire.ts';
import { startTarebook } from './server-process.ts';

const GROUPS = 30;
const SECONDS = 60;
/** A burst is everybody at once; between two of them a class fills and weighs. */
const BURST_EVERY_MS = 3_000;

export async function klass(): Promise<Measure[]> {
  const tarebook = await startTarebook();
  try {
    const address = `http://127.0.0.1:${tarebook.port}`;
    const lesson = await openLesson(address, GROUPS);
    const groups: Group[] = [];
    for (let index = 0; index < GROUPS; index += 1) groups.push(await joinGroup(address, lesson.code));
    const board = await watchBoard(address, lesson.id);
    const saved: number[] = [];
    const dots: number[] = [];
    const until = performance.now() + SECONDS * 1000;
    while (performance.now() < until) {
      const next = new Promise((resolve) => setTimeout(resolve, BURST_EVERY_MS));
      const bursts = groups.map(async (group, index) => {
        const sent = performance.now();
        const number = await saveTrial(address, group, (160.8 + (index % 10) / 100).toFixed(2));
        saved.push(performance.now() - sent);
        dots.push((await board.seen(group.number, number)) - sent);
      });
      await Promise.all(bursts);
      await next;
    }
    board.close();
    remark(`${saved.length} trials of ${GROUPS} groups in ${SECONDS} s`);
    return [
      atMost('class.save-p95-ms', quantile(saved, 0.95), 'ms', 200),
      atMost('class.dot-p99-ms', quantile(dots, 0.99), 'ms', 1000),
    ];
  } finally {
    await tarebook.stop();
  }
}
