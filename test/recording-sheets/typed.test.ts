/** Readings typed from a recording sheet: marked so in the record, in lists and on paper, for ever. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Round } from '../../server/lots/contract-round.ts';
import { issueAside } from '../certificates/issue-aside.ts';
import { noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { faultIn } from '../db/support.ts';
import { begunLot, delivery, ROUND } from '../lots/delivery.ts';
import { expectProblem } from '../server/attempts.ts';
import { CALIBRATION, idOf, TestServer } from '../server/support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const FROM_SHEET = { origin: 'sheet', performedOn: '2026-09-11' };
const SAID = 'typed from a recording sheet';

describe('a calibration typed from a sheet', () => {
  it('needs the day that stands on it', async () => {
    const vessel = await server.vessel();
    const path = `/api/vessels/${vessel}/calibrations`;
    const { performedOn: _day, ...undated } = { ...CALIBRATION, ...FROM_SHEET };
    expectProblem(await server.post(path, undated), ['validation-failed', '#/performedOn']);
    expectProblem(await server.post(path, { ...undated, ...FROM_SHEET, origin: 'paper' }), [
      'validation-failed',
      '#/origin',
    ]);
  });

  it('says so on its page, in the history, in the journal and on the certificate', async (context) => {
    const vessel = await server.vessel({ tolerance: { markedMl: '0.1' } });
    const id = await server.calibration({ ...FROM_SHEET, plannedTrials: 1 }, vessel);
    await server.trial(id);
    const page = await server.calibrationPage(id);
    expect(page).toMatchObject({ origin: 'sheet', performedOn: '2026-09-11' });
    expect(page.findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['typed-from-sheet', 'entered-later']),
    );
    expect((await server.vesselPage(vessel)).calibrations[0]?.origin).toBe('sheet');
    const entries = await server.get(`/api/journal?object=calibration/${id}`);
    const begun = (entries.body['items'] as { act: string; actor: string; after: object | null }[]).find(
      ({ act }) => act === 'calibration-begun',
    );
    expect(begun).toMatchObject({ after: { origin: 'sheet', performedOn: '2026-09-11' } });
    const number = await issueAside(server, id);
    const { items } = (await server.get('/api/certificates')).body as { items: object[] };
    expect(items).toMatchObject([{ number, origin: 'sheet' }]);
    expect(faultIn(server.logbook.file)).toBeNull();
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    for (const path of [`/api/certificates/${number}/pdf`, `/api/vessels/${vessel}/history.pdf`]) {
      const { rawPayload } = await server.app.inject({ method: 'GET', url: path });
      expect(pagesOf(rawPayload).join(' ').replaceAll(/\s+/g, ' ')).toContain(SAID);
    }
  });
});

describe('a round typed from sheets', () => {
  it('marks the calibration of every vessel, and one at the bench marks none', async () => {
    const { lot, members } = await begunLot(server, 3, FROM_SHEET);
    const page = (await server.get(`/api/lots/${lot}/rounds/1`)).body as unknown as Round;
    expect(page).toMatchObject({ origin: 'sheet', performedOn: '2026-09-11' });
    for (const { calibrationId } of members) expect((await server.calibrationPage(calibrationId)).origin).toBe('sheet');
    const undated = idOf(await server.post('/api/lots', delivery()));
    const refused = await server.post(`/api/lots/${undated}/rounds`, { ...ROUND, origin: 'sheet' });
    expectProblem(refused, ['validation-failed', '#/performedOn']);
    const bench = await begunLot(server, 1);
    expect((await server.calibrationPage(bench.members[0]?.calibrationId ?? '')).origin).toBeNull();
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});
