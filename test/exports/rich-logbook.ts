/** A logbook with something in every corner: corrections, exclusions, texts that look like formulas, certificates. */
import { createHash } from 'node:crypto';
import { freshTag, idOf, type TestServer } from '../server/support.ts';
import { balance, FLASK_100, PIPETTE_10, ROOM, solidIn } from '../solutions/shelf.ts';

export const sha256 = (content: string | Buffer): string => createHash('sha256').update(content).digest('hex');

/** Texts a spreadsheet would take for a formula, and such as could be mistaken for a guard. */
export const AWKWARD = ['=1+1', '+1', '-1', '@x', "'quoted", "''twice", 'a "b", c', 'ä½漢'];

/** Stands for an issue until its time comes: rows and entries in the shape the tables ask for. */
export const issueCertificate = async (server: TestServer, calibrationId: string, number: string): Promise<void> => {
  const frozen = JSON.stringify({ invented: number });
  const frozenHash = sha256(frozen);
  const by = { actor: 'tester', requestId: 'issue' };
  await server.logbook.write(by, async ({ trx, at, actor, journal }) => {
    const after = { calibrationId, frozenHash, meaning: 'issued' };
    const entry = journal({ act: 'certificate-issued', object: `certificate/${number}`, before: null, after });
    const written = { recorded_at: at, recorded_by: actor, frozen_hash: frozenHash, entry_number: entry.number };
    const row = { number, calibration_id: calibrationId, replaces: null, reason: null, frozen, entry_hash: entry.hash };
    await trx
      .insertInto('certificate')
      .values({ ...row, ...written })
      .execute();
    return { status: 201, body: null };
  });
  await server.logbook.write(by, async ({ trx, at, actor, journal }) => {
    const files = { pdf: Buffer.from([0, 255, 37, 80, 68, 70]), xml: Buffer.from('<c/>') };
    const hashes = { pdf: sha256(files.pdf), xml: sha256(files.xml) };
    journal({ act: 'certificate-files-made', object: `certificate/${number}`, before: null, after: hashes });
    for (const format of ['pdf', 'xml'] as const)
      await trx
        .insertInto('certificate_file')
        .values({
          certificate_number: number,
          format,
          sha256: hashes[format],
          content: files[format],
          recorded_at: at,
          recorded_by: actor,
        })
        .execute();
    return { status: 201, body: null };
  });
};

/**
 * A solution made in a vessel and one diluted from it in others, one of these of a lot; one is discarded, and something
 * is decided about the other.
 */
const fillSolutions = async (server: TestServer, vessel: string): Promise<{ stock: string; diluted: string }> => {
  const ware = { ...FLASK_100, tolerance: { markedMl: '0.1' } };
  const numbering = { pattern: 'K-##', count: 2 };
  const lot = await server.post('/api/lots', { name: '=Autumn', receivedOn: '2026-09-01', ware, numbering });
  const [member] = (await server.get(`/api/lots/${idOf(lot)}`)).body['vessels'] as { id: string }[];
  const weighed = { weighing: { massG: '2.0422' }, balanceId: await balance(server) };
  const about = {
    title: '=phthalate',
    hazardLine: "'none",
    water: '-water',
    lots: '+1, "2"',
    note: AWKWARD.join('\n'),
  };
  const keep = async (body: object) => idOf(await server.post('/api/preparations', body));
  const stock = await keep({ ...about, madeOn: '2026-09-11', solution: solidIn(vessel, weighed) });
  const pipette = await server.vessel({ ...PIPETTE_10, tag: freshTag() });
  const steps = [{ deliveries: [{ vesselId: pipette }], madeUpIn: { vesselId: member?.id } }];
  const solution = { way: 'dilution', stock: { preparationId: stock }, steps, ...ROOM };
  const diluted = await keep({ title: 'diluted', madeOn: '2026-09-14', solution });
  await server.post(`/api/preparations/${stock}/end`, { ending: 'discarded', reason: '=cloudy' });
  const decision = { vesselId: vessel, decision: 'stands', reason: '@ small' };
  await server.post(`/api/preparations/${diluted}/decisions`, decision);
  return { stock, diluted };
};

/** @returns ids of the two calibrations; the first has everything, the second belongs to another vessel */
export const fill = async (
  server: TestServer,
): Promise<{ first: string; second: string; tag: string; stock: string; diluted: string }> => {
  const tag = '=SUM(A1)';
  const vessel = await server.vessel({ tag, note: AWKWARD.join('\n'), maker: "'own", location: '-0.5' });
  await server.patch(`/api/vessels/${vessel}`, 1, { serial: '+7', expectedSpreadMl: '0.010', reason: '@ first look' });
  const balance = {
    kind: 'balance',
    tag: 'B-1',
    resolutionG: '0.0001',
    corrections: [{ at: '50', correction: '-0.0002' }],
  };
  const balanceId = String((await server.post('/api/instruments', balance)).body['id']);
  await server.patch(`/api/instruments/${balanceId}`, 1, {
    instrument: { ...balance, model: '=A' },
    inUse: true,
    reason: 'model seen',
  });
  await server.post(`/api/instruments/${balanceId}/checks`, { referenceValue: '50.0000', reading: '50.0001' });
  const first = await server.calibration({ instruments: { balanceId }, performedOn: '2026-09-10' }, vessel);
  for (const filledG of ['160.8371', '160.83700', '+160.838', '0160.8369']) await server.trial(first, { filledG });
  await server.trial(first, { note: '-looks like a number' });
  const trials = `/api/calibrations/${first}/trials`;
  await server.post(`${trials}/1/correction`, { field: 'filledG', value: '160.8372', reason: 'digits swapped' });
  await server.post(`${trials}/2/exclusion`, { cause: 'spill', reason: '=spilled' });
  await server.post(`${trials}/2/inclusion`, { reason: 'it was trial 3' });
  await server.post(`/api/calibrations/${first}/conditions`, {
    airTemperatureC: '22.0',
    airPressureHpa: '992.5',
    relativeHumidityPercent: '47',
  });
  await server.post(`/api/calibrations/${first}/measured`, {});
  const second = await server.calibration({ performedOn: '2026-09-12' });
  await server.trial(second);
  await issueCertificate(server, first, '2026-0001');
  return { first, second, tag, ...(await fillSolutions(server, vessel)) };
};
