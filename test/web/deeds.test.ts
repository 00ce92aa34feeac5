/** What is done beside the trials of a round survives a lost connection, in order and once. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { NetworkError, ProblemError } from '../../web/api.ts';
import { Deeds } from '../../web/deeds.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const shelf = () => {
  const kept = new Map<string, string>();
  return {
    getItem: (name: string) => kept.get(name) ?? null,
    setItem: (name: string, text: string) => void kept.set(name, text),
  };
};

const outcome = async () => vi.advanceTimersByTimeAsync(10_000);

it('keeps what was done while the server is away, and sends it later under the same key, in order', async () => {
  const storage = shelf();
  const tried: string[] = [];
  let isAway = true;
  const send = ({ id, path }: { id: string; path: string }) => {
    tried.push(`${path} ${id}`);
    return isAway ? Promise.reject(new NetworkError()) : Promise.resolve();
  };
  const options = { storage, send, who: () => Promise.resolve('Tom'), onSent: () => Promise.resolve() };
  const first = new Deeds(options);
  first.add('/zero', { readingG: '0.0000' }, 'zero 0.0000 g');
  first.add('/look', {}, 'fit');
  await vi.advanceTimersByTimeAsync(1);
  const again = new Deeds(options);
  expect(again.list().map(({ path, what }) => [path, what])).toEqual([
    ['/zero', 'zero 0.0000 g'],
    ['/look', 'fit'],
  ]);
  isAway = false;
  await again.sendAll();
  await outcome();
  expect(again.list()).toEqual([]);
  expect(new Set(tried.filter((one) => one.startsWith('/zero'))).size).toBe(1);
  expect(tried.slice(-1)[0]).toMatch(/^\/look/);
});

it('says once why the server refused one, and goes on with the next', async () => {
  const send = ({ path }: { path: string }) =>
    path === '/bad' ? Promise.reject(new ProblemError(409, { detail: 'It is out of use.' })) : Promise.resolve();
  const deeds = new Deeds({
    storage: shelf(),
    send,
    who: () => Promise.resolve(null),
    onSent: () => Promise.resolve(),
  });
  deeds.add('/bad', {}, 'bad');
  deeds.add('/good', {}, 'good');
  await outcome();
  expect(deeds.list()).toMatchObject([{ path: '/bad', refused: 'It is out of use.' }]);
  deeds.discard(deeds.list()[0]?.id ?? '');
  expect(deeds.list()).toEqual([]);
});

it('leaves what another person did at this browser for that person', async () => {
  const storage = shelf();
  const sent: string[] = [];
  const send = ({ path }: { path: string }) => Promise.resolve(void sent.push(path));
  const as = (name: string, isAway = false) =>
    new Deeds({
      storage,
      send: isAway ? () => Promise.reject(new NetworkError()) : send,
      who: () => Promise.resolve(name),
      onSent: () => Promise.resolve(),
    });
  as('Tom', true).add('/zero', {}, 'zero');
  await vi.advanceTimersByTimeAsync(1);
  await as('Ina').sendAll();
  expect(sent).toEqual([]);
  await as('Tom').sendAll();
  expect(sent).toEqual(['/zero']);
});

it('counts as done until what is in sight was read anew, so that a tick never goes back', async () => {
  let seen: () => void = () => undefined;
  const onSent = () => new Promise<void>((resolve) => void (seen = resolve));
  const deeds = new Deeds({
    storage: shelf(),
    send: () => Promise.resolve(),
    who: () => Promise.resolve(null),
    onSent,
  });
  const told: number[] = [];
  deeds.subscribe(() => void told.push(deeds.list().length + deeds.answered().length));
  deeds.add('/look', {}, 'fit');
  await outcome();
  expect(deeds.list()).toEqual([]);
  expect(deeds.answered().map(({ path }) => path)).toEqual(['/look']);
  expect(told.every((count) => count === 1)).toBe(true);
  seen();
  await outcome();
  expect(deeds.answered()).toEqual([]);
  expect(told.at(-1)).toBe(0);
});
