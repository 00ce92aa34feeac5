import { expect, it } from 'vitest';
import { startThread } from '../../server/threads.ts';

it('a thread runs from the sources, as in development', async () => {
  const thread = startThread(new URL('../../server/certificates/pdf/pdf-worker.ts', import.meta.url), {});
  const said = new Promise((resolve, reject) => {
    thread.once('message', resolve);
    thread.once('error', reject);
  });
  // Nothing to set: that it is refused by its ticket says that the thread stands.
  thread.postMessage({ ticket: 7, paper: { kind: 'history', input: null } });
  expect(await said).toMatchObject({ ticket: 7, failed: { message: expect.any(String) as string } });
  await thread.terminate();
});
