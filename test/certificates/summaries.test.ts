/** The history of a vessel and the summary of a term, as files of the server. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer } from '../server/support.ts';
import { issueAside } from './issue-aside.ts';
import { checked, noPdfPrograms, pagesOf } from './pdf-programs.ts';

let server: TestServer;
let vesselId: string;
let number: string;

const pdfAt = async (url: string): Promise<Buffer> => {
  const reply = await server.app.inject({ method: 'GET', url });
  expect(reply.statusCode).toBe(200);
  expect(reply.headers['content-type']).toBe('application/pdf');
  return reply.rawPayload;
};

/** Two vessels: the first passes and is issued, the second fails and stays open; a balance is overdue. */
beforeAll(async () => {
  server = await TestServer.start();
  const flask = { tolerance: { markedMl: '0.1' } };
  vesselId = await server.vessel({ ...flask, tag: 'SUM-1' });
  const passing = await server.calibration({}, vesselId);
  for (const filledG of ['160.9371', '160.9380', '160.9375']) await server.trial(passing, { filledG });
  number = await issueAside(server, passing);
  await server.patch(`/api/vessels/${vesselId}`, 1, { location: 'shelf 9', reason: 'moved to the dry room' });
  const failing = await server.calibration({}, await server.vessel({ ...flask, tag: 'SUM-2' }));
  for (const filledG of ['160.4371', '160.4380', '160.4375'])
    await server.trial(failing, { filledG, confirm: ['volume'] });
  const balance = { kind: 'balance', tag: 'BAL-9', resolutionG: '0.0001', dueOn: '2026-08-01' };
  idOf(await server.post('/api/instruments', balance));
});
afterAll(async () => server.end());

describe('the history of a vessel', () => {
  it('tells its calibrations, certificates and changes', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pdf = await pdfAt(`/api/vessels/${vesselId}/history.pdf`);
    expect(checked(pdf)).toContain('No syntax or stream encoding errors found');
    const text = pagesOf(pdf).join(' ');
    for (const said of ['History of SUM-1', 'shelf 9', 'moved to the dry room.', 'pass', 'it is no certificate'])
      expect(text).toContain(said);
    expect(text).toMatch(new RegExp(`2026-09-14 issued 100 .*${number}`));
    expect(text).not.toContain('SUM-2');
  });

  it('is refused for a vessel that is not there', async () => {
    expectProblem(await server.get('/api/vessels/aaaa/history.pdf'), ['not-found']);
  });
});

describe('the summary of a term', () => {
  it('puts what failed first, and tells counts, overdue instruments and certificates', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pdf = await pdfAt('/api/terms/summary.pdf?from=2026-09-01&to=2026-09-30');
    expect(checked(pdf)).toContain('No syntax or stream encoding errors found');
    const text = pagesOf(pdf).join(' ');
    expect(text.indexOf('SUM-2')).toBeGreaterThan(0);
    expect(text.indexOf('SUM-2')).toBeLessThan(text.indexOf('SUM-1'));
    for (const said of ['2 vessels calibrated', '1 certificate issued', '2, 0 of them abandoned', `${number} SUM-1`])
      expect(text).toContain(said);
    expect(text).toContain('BAL-9 balance 2026-08-01');
  });

  it('holds nothing of other days', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const text = pagesOf(await pdfAt('/api/terms/summary.pdf?from=2026-09-15&to=2026-09-30')).join(' ');
    expect(text).toContain('0 vessels calibrated');
    expect(text).not.toMatch(/SUM-/);
  });

  it.each([
    ['', '#/from', '#/to'],
    ['?from=2026-09-01', '#/to'],
    ['?from=2026-09-30&to=2026-09-01', '#/to'],
    ['?from=2024-01-01&to=2026-01-01', '#/to'],
  ])('is refused for the days %s', async (query, ...pointers) => {
    expectProblem(await server.get(`/api/terms/summary.pdf${query}`), ['validation-failed', ...pointers]);
  });
});
