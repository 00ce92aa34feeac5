/** The one way to write: row, journal entry and key stand or fall together, and nothing is answered before COMMIT. */
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { connect, queryBuilder, type Handle } from '../../server/db/connection.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import { Writer } from '../../server/db/write.ts';
import { Problem } from '../../server/problem.ts';
import {
  entriesIn,
  faultIn,
  insertMark,
  looking,
  marksIn,
  removeFolder,
  REQUEST,
  tell,
  temporaryFolder,
  writeMark,
} from './support.ts';

let folder: string;
let logbook: Logbook;
beforeEach(async () => {
  folder = temporaryFolder();
  logbook = await openLogbook(folder);
});
afterEach(async () => {
  await logbook.close();
  removeFolder(folder);
});

const keysIn = (): unknown[] =>
  looking(logbook.file, (handle) => handle.prepare('select request_key from idempotency_key').pluck().all());
const nothingStands = (): void => {
  expect({ marks: marksIn(logbook.file), entries: entriesIn(logbook.file), keys: keysIn() }).toEqual({
    marks: [],
    entries: 0,
    keys: [],
  });
};
const KEY = { value: 'key-1', fingerprint: 'a' };

describe('a write', () => {
  it('keeps row, entry and key', async () => {
    expect(await writeMark(logbook, 'one', KEY)).toEqual({ status: 201, body: { mark: 'one' } });
    expect({ marks: marksIn(logbook.file), entries: entriesIn(logbook.file), keys: keysIn() }).toEqual({
      marks: ['one'],
      entries: 1,
      keys: ['key-1'],
    });
  });

  it('that fails between the row and its entry keeps neither', async () => {
    const failing = logbook.write({ ...REQUEST, key: KEY }, async (writing) => {
      await insertMark(writing, 'one');
      throw new Error('power of imagination');
    });
    await expect(failing).rejects.toThrow('power of imagination');
    nothingStands();
  });

  it('that fails after its entry keeps neither', async () => {
    const failing = logbook.write({ ...REQUEST, key: KEY }, async (writing) => {
      await insertMark(writing, 'one');
      tell(writing, 'one');
      throw new Problem('state-conflict');
    });
    await expect(failing).rejects.toMatchObject({ code: 'state-conflict' });
    nothingStands();
  });

  it('whose entry cannot be written keeps no row', async () => {
    const failing = logbook.write({ ...REQUEST, key: KEY }, async (writing) => {
      await insertMark(writing, 'one');
      writing.journal({ act: 'marked', object: 'mark/one', before: null, after: { mass: 99.6337 } });
      return { status: 201, body: null };
    });
    await expect(failing).rejects.toThrow(/safe integer/);
    nothingStands();
  });

  it('without an entry is not committed', async () => {
    const silent = logbook.write({ ...REQUEST, key: KEY }, async (writing) => {
      await insertMark(writing, 'one');
      return { status: 201, body: null };
    });
    await expect(silent).rejects.toThrow(/journal entry/);
    nothingStands();
  });

  it('numbers its entries without a gap, refused writes in between', async () => {
    await writeMark(logbook, 'one');
    await expect(writeMark(logbook, 'one')).rejects.toThrow(/UNIQUE/);
    await writeMark(logbook, 'two');
    const numbers = looking(logbook.file, (handle) =>
      handle.prepare('select number from journal_entry order by number').pluck().all(),
    );
    expect(numbers).toEqual([1, 2]);
    expect(faultIn(logbook.file)).toBeNull();
  });
});

describe('nesting', () => {
  const inner: Record<string, () => Promise<unknown>> = {
    read: () => logbook.read(async () => 1),
    write: () => writeMark(logbook, 'inner'),
  };
  for (const [name, within] of Object.entries(inner)) {
    it(`a ${name} inside a write throws at once`, async () => {
      const outer = logbook.write(REQUEST, async (writing) => {
        tell(writing, 'outer');
        await within();
        return { status: 201, body: null };
      });
      await expect(outer).rejects.toThrow(/inside a write/);
      nothingStands();
    });

    it(`a ${name} inside a read throws at once`, async () => {
      await expect(logbook.read(async () => within())).rejects.toThrow(/inside a read/);
      nothingStands();
    });
  }

  it('does not touch what comes after or beside', async () => {
    const [seen] = await Promise.all([logbook.read(async () => 'seen'), writeMark(logbook, 'one')]);
    await writeMark(logbook, 'two');
    expect(seen).toBe('seen');
    expect(marksIn(logbook.file)).toEqual(['one', 'two']);
  });
});

describe('writes that wait together', () => {
  const marks = Array.from({ length: 150 }, (_, index) => `m${String(index).padStart(3, '0')}`);

  it('stand or fall each alone', async () => {
    const outcomes = await Promise.allSettled(
      marks.map((mark, index) =>
        logbook.write(REQUEST, async (writing) => {
          await insertMark(writing, mark);
          tell(writing, mark);
          if (index % 3 === 0) throw new Problem('state-conflict');
          return { status: 201, body: mark };
        }),
      ),
    );
    const good = marks.filter((_, index) => index % 3 !== 0);
    expect(outcomes.map((outcome) => outcome.status)).toEqual(
      marks.map((_, index) => (index % 3 === 0 ? 'rejected' : 'fulfilled')),
    );
    expect(marksIn(logbook.file)).toEqual(good);
    expect(entriesIn(logbook.file)).toBe(good.length);
    expect(faultIn(logbook.file)).toBeNull();
  });

  it('are answered only when everybody else can see them', async () => {
    const seen = await Promise.all(
      marks.map(async (mark) => {
        await writeMark(logbook, mark);
        return marksIn(logbook.file).includes(mark);
      }),
    );
    expect(seen).toEqual(marks.map(() => true));
  });

  it('are not seen while their transaction is open, nor answered', async () => {
    let answered = false;
    const first = writeMark(logbook, 'first').then(() => (answered = true));
    const second = logbook.write(REQUEST, async (writing) => {
      await new Promise((resolve) => setTimeout(resolve, 20));
      tell(writing, 'second');
      return { status: 201, body: { answered, seen: marksIn(logbook.file) } };
    });
    expect((await second).body).toEqual({ answered: false, seen: [] });
    await first;
    expect(marksIn(logbook.file)).toEqual(['first']);
  });
});

describe('keys', () => {
  it('answer the same request again without doing it again', async () => {
    const answers = await Promise.all([1, 2, 3].map(() => writeMark(logbook, 'one', KEY)));
    expect(new Set(answers.map((answer) => JSON.stringify(answer))).size).toBe(1);
    await logbook.close();
    logbook = await openLogbook(folder);
    expect(await writeMark(logbook, 'one', KEY)).toEqual(answers[0]);
    expect(entriesIn(logbook.file)).toBe(1);
  });

  it('refuse another request', async () => {
    await writeMark(logbook, 'one', KEY);
    await expect(writeMark(logbook, 'two', { ...KEY, fingerprint: 'b' })).rejects.toMatchObject({ code: 'key-reused' });
    expect(marksIn(logbook.file)).toEqual(['one']);
  });
});

describe('when the database fails', () => {
  let handle: Handle;
  let writer: Writer;
  beforeEach(() => {
    handle = connect(logbook.file, { readOnly: false });
    writer = new Writer(queryBuilder(handle), handle, () => new Date('2026-09-14T08:30:00Z'));
  });
  afterEach(() => {
    handle.close();
  });
  const submit = (mark: string) =>
    writer.submit(REQUEST, async (writing) => {
      await insertMark(writing, mark);
      tell(writing, mark);
      return { status: 201, body: mark };
    });

  it('a full disk leaves nothing half, says so, and lets go when there is room again', async () => {
    await submit('before');
    const pages = Number(handle.pragma('page_count', { simple: true }));
    handle.pragma(`max_page_count = ${pages}`);
    const large = Array.from({ length: 30 }, (_, index) => `${index}-${'x'.repeat(2000)}`);
    const outcomes = await Promise.allSettled(large.map(submit));
    const refused = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason as unknown] : []));
    expect(refused.length).toBeGreaterThan(0);
    for (const reason of refused) expect(reason).toMatchObject({ code: 'SQLITE_FULL' });
    const kept = outcomes.flatMap((outcome) => (outcome.status === 'fulfilled' ? [outcome.value.body] : []));
    expect(marksIn(logbook.file)).toEqual([...kept, 'before'].sort());
    expect(faultIn(logbook.file)).toBeNull();

    handle.pragma('max_page_count = 1000000');
    await submit('after');
    expect(marksIn(logbook.file)).toContain('after');
    expect(entriesIn(logbook.file)).toBe(kept.length + 2);
    expect(faultIn(logbook.file)).toBeNull();
    expect(handle.pragma('integrity_check', { simple: true })).toBe('ok');
  });

  it('a COMMIT that fails is told to every write it held, with its own reason', async () => {
    const orphan = writer.submit(REQUEST, async ({ trx, at, actor, journal }) => {
      await sql`pragma defer_foreign_keys = on`.execute(trx);
      await trx.insertInto('vessel_tag').values({ tag: 'F-1', vessel_id: 'nobody' }).execute();
      journal({ act: 'marked', object: 'mark/orphan', before: null, after: { at, actor } });
      return { status: 201, body: null };
    });
    const outcomes = await Promise.allSettled([submit('beside'), orphan]);
    for (const outcome of outcomes)
      expect(outcome).toMatchObject({ status: 'rejected', reason: { code: 'SQLITE_CONSTRAINT_FOREIGNKEY' } });
    nothingStands();
    await submit('after');
    expect(marksIn(logbook.file)).toEqual(['after']);
  });
});
