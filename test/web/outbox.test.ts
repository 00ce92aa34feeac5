import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { NetworkError, ProblemError } from '../../web/api.ts';
import { Outbox, unsentCount, type OutboxEntry, type OutboxStorage } from '../../web/outbox.ts';

const typed: OutboxEntry['typed'] = {
  emptyG: '61.2034',
  filledG: '160.8371',
  waterTemperatureC: '21.3',
  isAssumed: false,
  waterTemperatureHalfWidthC: '',
  emptySource: 'own',
  emptyState: '',
  emptyOf: null,
  deliveryTimeS: '',
  waitingTimeS: '',
  openTimeS: '',
  note: '',
};
const body = { pointMl: '100', emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' };
const entry = (id: string, madeAt: number): OutboxEntry => ({
  id,
  calibrationId: 'c1',
  tag: 'F-0317',
  pointMl: '100',
  madeAt,
  state: 'typed',
  typed,
  body: null,
  problem: null,
  savedNumber: null,
});

const who = () => Promise.resolve(null);

/** A shelf that outlives the outbox, as a browser's does a reload. */
const shelf = () => {
  const kept = new Map<string, OutboxEntry>();
  const storage: OutboxStorage = {
    load: () => Promise.resolve([...kept.values()]),
    put: (one) => Promise.resolve(void kept.set(one.id, structuredClone(one))),
    remove: (id) => Promise.resolve(void kept.delete(id)),
  };
  return { kept, storage };
};

/** A server that records what comes under a new key and answers a known key with its first answer. */
const server = () => {
  const recorded: string[] = [];
  let reachable = true;
  let answerLost = false;
  const send = vi.fn(({ id }: OutboxEntry): Promise<{ number: number }> => {
    if (!reachable) return Promise.reject(new NetworkError());
    if (!recorded.includes(id)) recorded.push(id);
    if (answerLost) return Promise.reject(new NetworkError());
    return Promise.resolve({ number: recorded.indexOf(id) + 1 });
  });
  return {
    recorded,
    send,
    set reachable(value: boolean) {
      reachable = value;
    },
    set answerLost(value: boolean) {
      answerLost = value;
    },
  };
};

const onSaved = () => Promise.resolve();
beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('outbox of the bench', () => {
  it('keeps what was typed over a reload, and sends nothing of it', async () => {
    const { storage } = shelf();
    const { send } = server();
    await new Outbox({ who, storage, send, onSaved }).type({
      ...entry('k1', 1),
      typed: { ...typed, filledG: '160.8' },
    });

    const reloaded = new Outbox({ who, storage, send, onSaved });
    await reloaded.start();
    expect(reloaded.entries().map((one) => [one.state, one.typed.filledG])).toEqual([['typed', '160.8']]);
    expect(send).not.toHaveBeenCalled();
    expect(unsentCount(reloaded.entries())).toBe(0);
  });

  it('sends ten entries made without network in their order, once each', async () => {
    const { storage, kept } = shelf();
    const far = server();
    far.reachable = false;
    const outbox = new Outbox({ who, storage, send: far.send, onSaved });
    const ids = Array.from({ length: 10 }, (_, index) => `k${index}`);
    for (const [index, id] of ids.entries()) await outbox.queue(entry(id, index), body);
    expect(unsentCount(outbox.entries())).toBe(10);
    expect(far.recorded).toEqual([]);

    far.reachable = true;
    await outbox.sendAll();
    expect(far.recorded).toEqual(ids);
    await vi.waitFor(() => expect(outbox.entries()).toEqual([]));
    expect(kept.size).toBe(0);
  });

  it('keeps what one person typed from being sent by another, and sends it when the first is back', async () => {
    const { storage } = shelf();
    const far = server();
    far.reachable = false;
    let name = 'Ada';
    const whoNow = () => Promise.resolve(name);
    await new Outbox({ who: whoNow, storage, send: far.send, onSaved }).queue(entry('k1', 1), body);

    name = 'Tom';
    far.reachable = true;
    const reloaded = new Outbox({ who: whoNow, storage, send: far.send, onSaved });
    await reloaded.start();
    await reloaded.queue(entry('k2', 2), body);
    expect(far.recorded).toEqual(['k2']);
    expect(reloaded.entries()[0]?.problem?.detail).toContain('Ada');
    expect(unsentCount(reloaded.entries().filter((one) => one.id === 'k1'))).toBe(1);

    name = 'Ada';
    await reloaded.sendAll();
    expect(far.recorded).toEqual(['k2', 'k1']);
  });

  it('tries again by itself after a while', async () => {
    const far = server();
    far.reachable = false;
    const outbox = new Outbox({ who, storage: shelf().storage, send: far.send, onSaved });
    await outbox.queue(entry('k1', 1), body);
    far.reachable = true;
    await vi.advanceTimersByTimeAsync(3_000);
    expect(far.recorded).toEqual(['k1']);
  });

  it('sends under the same key when the answer was lost or the page closed meanwhile', async () => {
    const { storage } = shelf();
    const far = server();
    far.answerLost = true;
    await new Outbox({ who, storage, send: far.send, onSaved }).queue(entry('k1', 1), body);
    expect(far.recorded).toEqual(['k1']);

    far.answerLost = false;
    const reloaded = new Outbox({ who, storage, send: far.send, onSaved });
    await reloaded.start();
    expect(far.recorded).toEqual(['k1']);
    expect(far.send.mock.calls.map(([one]) => one.id)).toEqual(['k1', 'k1']);
    await vi.waitFor(() => expect(reloaded.entries()).toEqual([]));
  });

  it('takes up an entry that was being sent when the page went away', async () => {
    const { storage } = shelf();
    await storage.put({ ...entry('k1', 1), state: 'sending', body });
    const far = server();
    await new Outbox({ who, storage, send: far.send, onSaved }).start();
    expect(far.recorded).toEqual(['k1']);
  });

  it('keeps a refused entry with its values and the reason, and goes on with the next', async () => {
    const { storage, kept } = shelf();
    const refusal = new ProblemError(422, {
      type: '/problems/please-confirm',
      detail: 'Digits swapped?',
      errors: [{ pointer: '#/filledG', detail: 'Digits swapped?', confirm: 'volume' }],
    });
    const send = vi.fn(({ id }: OutboxEntry) =>
      id === 'k1' ? Promise.reject(refusal) : Promise.resolve({ number: 1 }),
    );
    const outbox = new Outbox({ who, storage, send, onSaved });
    const both = [outbox.queue(entry('k1', 1), body), outbox.queue(entry('k2', 2), body)];
    await Promise.all(both);
    expect(outbox.entries().find((one) => one.id === 'k1')).toMatchObject({
      state: 'failed',
      typed,
      problem: { code: 'please-confirm', fields: [{ field: 'filledG', confirm: 'volume' }] },
    });
    expect(send.mock.calls.map(([one]) => one.id)).toEqual(['k1', 'k2']);
    expect([...kept.keys()]).toEqual(['k1']);

    // Changed and sent again, it keeps its key: a refused body is not kept by the server.
    await outbox.queue({ ...entry('k1', 1) }, { ...body, confirm: ['volume'], note: 'other mark' });
    expect(send.mock.calls[2]?.[0]).toMatchObject({ id: 'k1', body: { confirm: ['volume'] } });
  });

  it('changes an entry under a key of its own once another tab has used the old one for other values', async () => {
    const { storage, kept } = shelf();
    const refusal = new ProblemError(422, { type: '/problems/key-reused', detail: 'Another key, please.' });
    const send = vi.fn(({ id }: OutboxEntry) =>
      id === 'k1' ? Promise.reject(refusal) : Promise.resolve({ number: 2 }),
    );
    const outbox = new Outbox({ who, storage, send, onSaved });
    await outbox.queue(entry('k1', 1), body);
    const [failed] = outbox.entries();
    expect(failed).toMatchObject({ id: 'k1', state: 'failed', problem: { code: 'key-reused' } });
    await outbox.type(failed!);
    const [again] = outbox.entries();
    expect(again).toMatchObject({ state: 'typed', typed, problem: null });
    expect(again?.id).toMatch(/^[0-9a-f]{32}$/);
    expect([...kept.keys()]).toEqual([again?.id]);
    await outbox.queue(again!, body);
    await vi.waitFor(() => expect(outbox.entries()).toEqual([]));
  });

  it.each(['not-signed-in', 'storage-full', 'too-many-requests'])(
    'waits after %s and keeps the entry',
    async (code) => {
      const send = () =>
        Promise.reject(new ProblemError(code === 'not-signed-in' ? 401 : 429, { type: `/problems/${code}` }));
      const outbox = new Outbox({ who, storage: shelf().storage, send, onSaved });
      await outbox.queue(entry('k1', 1), body);
      expect(outbox.entries()[0]).toMatchObject({ state: 'waiting', problem: { code } });
    },
  );

  it('says so when the browser keeps nothing, and still sends', async () => {
    const full = () => Promise.reject(new Error('quota'));
    const far = server();
    const outbox = new Outbox({ who, storage: { load: full, put: full, remove: full }, send: far.send, onSaved });
    await outbox.queue(entry('k1', 1), body);
    expect(outbox.storageFails()).toBe(true);
    expect(far.recorded).toEqual(['k1']);
  });
});
