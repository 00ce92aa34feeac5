/** The words of the command line, as a person calls them. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLogbook } from '../../server/db/logbook.ts';
import { callWord } from '../server/child.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'tarebook-words-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const call = (...words: string[]) => callWord(folder, ...words);

describe('npm run tarebook --', () => {
  it('lists its words for one it does not know, and for none', async () => {
    // A name that every object of the language has is no word either.
    const unknown = await call('constructor');
    expect(unknown.code).toBe(1);
    expect(unknown.warned).toContain('There is no word "constructor".');
    expect(unknown.warned).toContain('  demo — ');
    const none = await call();
    expect(none).toEqual({ code: 1, said: '', warned: unknown.warned.split('\n').slice(1).join('\n') });
  });

  it('loads the demonstration and says how to look at it', async () => {
    const loaded = await call('demo');
    expect(loaded).toMatchObject({ code: 0, warned: '' });
    expect(loaded.said.trim().split('\n').at(-1)).toBe(
      `Loaded into ${path.join(folder, 'tarebook.db')}: 113 vessels, 115 calibrations, 775 trials. Look at it with: npm start`,
    );
  });

  it('says plainly why not, and leaves with a code of its own', async () => {
    expect(await call('demo', 'twice')).toMatchObject({ code: 1, said: '' });
    const logbook = await openLogbook(folder);
    try {
      const busy = await call('demo');
      expect(busy).toMatchObject({ code: 1, said: '' });
      expect(busy.warned.trim().split('\n')).toEqual([
        'Another Tarebook already has this logbook open. Stop it first, or use another data folder.',
      ]);
    } finally {
      await logbook.close();
    }
  });
});
