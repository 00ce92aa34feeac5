/** Whatever the journal can tell of has words on the page. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { acts } from '../../web/messages/en-records.ts';

const ACT = /\bact: '([a-z-]+)'|\bchange\(desk, request, '([a-z-]+)'/g;

it('names every act that the server writes', () => {
  const files = readdirSync('server', { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
  const written = files.flatMap((name) =>
    [...readFileSync(path.join('server', name), 'utf8').matchAll(ACT)].map(([, plain, own]) => plain ?? own ?? ''),
  );
  expect(written.length).toBeGreaterThan(60);
  expect([...new Set(written)].filter((act) => !Object.hasOwn(acts, act))).toEqual([]);
});
