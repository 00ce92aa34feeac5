/** The board: equal to the database after any drop, hiding what the teacher hides, ending with the right to see it. */
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { RandomStream } from '../../server/metrology/random-stream.ts';
import type { Board } from '../../server/experiments/contract-class.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { addPerson, setUp, type Browser } from '../people/people.ts';
import { BoardStream } from './events.ts';
import { helpAt, joinAt, ok, openExperiment, READINGS, type Lesson } from './lesson.ts';

let server: TestServer;
let teacher: Browser;
let lesson: Lesson;
let port: number;
let url: string;
const streams: BoardStream[] = [];
beforeEach(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
  lesson = await openExperiment(teacher);
  url = `/api/experiments/${lesson.id}/board`;
  await server.app.listen({ host: '127.0.0.1', port: 0 });
  port = (server.app.server.address() as AddressInfo).port;
});
afterEach(async () => {
  for (const stream of streams.splice(0)) stream.drop();
  await server.end();
});

const listen = (browser: Browser, lastEventId = 0): BoardStream => {
  const cookie = [...browser.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  const stream = new BoardStream({ port, url: `${url}/stream`, cookie, lastEventId });
  streams.push(stream);
  return stream;
};
const read = async (browser = teacher): Promise<Board> => (ok(await browser.get(url)) as { board: Board }).board;

describe('a stream', () => {
  it('sends the board at once, and again when a trial was saved; nothing on the way keeps it back', async () => {
    const projector = await helpAt(server, 'board', lesson.boardCode);
    const stream = listen(projector);
    await stream.until(({ boards }) => boards.length === 1);
    expect(stream.headers).toMatchObject({
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
      'x-content-type-options': 'nosniff',
    });
    const group = await joinAt(server, lesson.code);
    ok(await group.browser.post(`${group.url}/trials`, READINGS));
    await stream.until(({ board }) => board?.trials.length === 1);
    expect(stream.board).toEqual(await read());
    expect(stream.board?.trials).toEqual([expect.objectContaining({ group: 1, row: 'flask', number: 1 })]);
  });

  it('dropped at random a hundred times is equal to the database each time it comes back', async () => {
    const draw = new RandomStream(20260914);
    const groups = [await joinAt(server, lesson.code), await joinAt(server, lesson.code)];
    let stream = listen(teacher);
    const saving = (count: number) =>
      Array.from({ length: count }, async (_, index) => {
        const { browser, url: own } = groups[index % 2]!;
        const filledG = (160.8 + draw.uniform() / 10).toFixed(4);
        ok(await browser.post(`${own}/trials`, { ...READINGS, filledG }));
      });
    for (let drops = 0; drops < 100; drops += 1) {
      const saved = drops % 2 === 0 ? saving(drops % 4 === 0 ? 1 : 2) : [];
      // Before, while or after it is saved.
      await new Promise((resolve) => setTimeout(resolve, draw.uniform() * 12));
      const seen = stream.lastId;
      const kept = stream.board;
      stream.drop();
      await Promise.all(saved);
      stream = listen(teacher, seen);
      const { change } = await read();
      await stream.until(({ lastId }) => lastId >= change);
      const board = stream.board ?? kept;
      // Nothing new: the board from before the drop still stands.
      if (seen < change || board !== undefined) expect(board).toEqual(await read());
    }
    expect((await read()).trials.length).toBeGreaterThan(70);
  }, 120_000);

  it('sends nothing to whoever has the newest board already', async () => {
    const { change } = await read();
    const stream = listen(teacher, change);
    await stream.until(({ status }) => status === 200);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(stream.boards).toEqual([]);
    await joinAt(server, lesson.code);
    await stream.until(({ boards }) => boards.length === 1);
  });

  it('says every fifteen seconds that it is there', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    try {
      const stream = listen(teacher);
      await stream.until(({ boards }) => boards.length === 1);
      expect(stream.comments).toEqual([]);
      vi.advanceTimersByTime(15_000);
      await stream.until(({ comments }) => comments.length === 1);
      vi.advanceTimersByTime(15_000);
      await stream.until(({ comments }) => comments.length === 2);
    } finally {
      vi.useRealTimers();
    }
  });

  it('ends when the right to it ends: the lesson is over, the code was changed, somebody signed out', async () => {
    const projector = await helpAt(server, 'board', lesson.boardCode);
    const [first, second] = [listen(projector), listen(teacher)];
    for (const stream of [first, second]) await stream.until(({ boards }) => boards.length === 1);
    ok(await teacher.post(`/api/experiments/${lesson.id}/joining`, { act: 'rotate' }));
    await joinAt(server, (ok(await teacher.get(`/api/experiments/${lesson.id}/joining`)) as { code: string }).code);
    await first.until(({ hasEnded }) => hasEnded);
    expect(second.hasEnded).toBe(false);
    const { browser: colleague } = await addPerson(teacher, 'Eva Board', 'teacher');
    await teacher.send('DELETE', '/api/session');
    ok(await colleague.post(`/api/experiments/${lesson.id}/groups`, { count: 1 }));
    await second.until(({ hasEnded }) => hasEnded);
    const late = listen(projector);
    await late.until(({ status }) => status !== 0);
    expect(late.status).toBe(401);
  });

  it('sends the last board of an experiment that is closed, ends, and is not opened again', async () => {
    const projector = await helpAt(server, 'board', lesson.boardCode);
    const stream = listen(projector);
    await stream.until(({ boards }) => boards.length === 1);
    ok(await teacher.post(`/api/experiments/${lesson.id}/closing`));
    await stream.until(({ hasEnded }) => hasEnded);
    expect(stream.board?.state).toBe('closed');
    const again = listen(teacher, stream.lastId);
    await again.until(({ status }) => status !== 0);
    expect(again.status).toBe(409);
  });

  it('is held by twelve boards at most', async () => {
    for (let held = 0; held < 12; held += 1) {
      const stream = listen(teacher);
      await stream.until(({ boards }) => boards.length === 1);
    }
    expectProblem(await teacher.get(`${url}/stream`), ['too-many-boards']);
    streams.pop()?.drop();
    await vi.waitFor(async () => {
      const stream = listen(teacher);
      await stream.until(({ status }) => status !== 0);
      expect(stream.status).toBe(200);
    });
  });

  it('does not keep a server from closing', async () => {
    const stream = listen(teacher);
    await stream.until(({ boards }) => boards.length === 1);
    await server.close();
    await stream.until(({ hasEnded }) => hasEnded);
    await server.open();
  });
});

describe('without a stream', () => {
  it('the board is asked for now and then, and nothing is sent twice', async () => {
    const { change, board } = ok(await teacher.get(url)) as { change: number; board: Board };
    expect(board.change).toBe(change);
    expect(ok(await teacher.get(`${url}?after=${change}`))).toEqual({ change, board: null });
    await joinAt(server, lesson.code);
    const next = ok(await teacher.get(`${url}?after=${change}`)) as { change: number; board: Board };
    expect(next.change).toBeGreaterThan(change);
    expect(next.board.groups).toHaveLength(1);
  });
});

describe('what it shows', () => {
  const show = async (body: object) => {
    const { version } = ok(await teacher.get(`/api/experiments/${lesson.id}`)) as { version: number };
    ok(await teacher.patch(`/api/experiments/${lesson.id}`, version, body));
  };

  it('are names until they are hidden, and never an id of a group', async () => {
    const group = await joinAt(server, lesson.code);
    expect((await read()).groups).toEqual([{ number: 1, name: group.name }]);
    await show({ namesHidden: true });
    expect((await read()).groups).toEqual([{ number: 1, name: null }]);
    expect(JSON.stringify(await read())).not.toContain(group.group);
  });

  it('are predictions only when the teacher wants', async () => {
    const group = await joinAt(server, lesson.code);
    ok(await group.browser.post(`${group.url}/predictions`, { row: 'flask', volumeMl: '100.5' }));
    expect((await read()).predictions).toBeNull();
    await show({ predictionsShown: true });
    const shown = { group: 1, row: 'flask', volumeMl: '100.5', withinMl: null, sureness: null };
    expect((await read()).predictions).toEqual([shown]);
  });

  it('is nothing of a hidden group; its data stay for the teacher', async () => {
    const groups = [await joinAt(server, lesson.code), await joinAt(server, lesson.code)];
    for (const { browser, url: own } of groups) ok(await browser.post(`${own}/trials`, READINGS));
    ok(await teacher.post(groups[0]!.url, { hidden: true }));
    const board = await read();
    expect({ groups: board.groups.length, trials: board.trials.map(({ group }) => group) }).toEqual({
      groups: 1,
      trials: [2],
    });
    const data = ok(await teacher.get(`/api/experiments/${lesson.id}/data`)) as { trials: object[] };
    expect(data.trials).toHaveLength(2);
  });

  it('says of a trial that was left out that it does not count', async () => {
    const { browser, url: own } = await joinAt(server, lesson.code);
    ok(await browser.post(`${own}/trials`, READINGS));
    ok(await browser.post(`${own}/trials/flask/1/exclusion`, { cause: 'drop-left' }));
    expect((await read()).trials).toEqual([expect.objectContaining({ number: 1, excluded: true })]);
  });
});
