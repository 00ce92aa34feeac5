/** From measured to issued and back, by people who sign with their passphrase. */
import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Certificate } from '../../server/certificates/contract.ts';
import { canonicalJson } from '../../server/journal/canonical.ts';
import { expectProblem } from '../server/attempts.ts';
import { faultIn, looking } from '../db/support.ts';
import { freshKey, idOf, SETUP_CODE, TestServer, type Reply } from '../server/support.ts';

const PASSPHRASE = 'seven quiet burettes';
const REASON = { reason: 'seen on the bench' };

let server: TestServer;
const cookies: Record<string, string> = {};

const cookieOf = (reply: Reply): string => String(reply.headers['set-cookie']).split(';')[0] ?? '';

const addPerson = async (name: string, role: string, mayIssue: boolean): Promise<void> => {
  const id = idOf(await as('Ada Keeper').post('/api/people', { name, role, mayIssue }));
  const { body } = await as('Ada Keeper').post(`/api/people/${id}/code`, {});
  const choice = { name, code: body['code'], password: PASSPHRASE };
  cookies[name] = cookieOf(await server.send('POST', '/api/session', choice));
};

/** Requests of one person. */
const as = (name: string) => {
  const headers = () => ({ cookie: cookies[name] ?? '' });
  return {
    get: (url: string) => server.send('GET', url, undefined, headers()),
    post: (url: string, body: object, key = freshKey()) =>
      server.send('POST', url, body, { 'idempotency-key': key, ...headers() }),
    patch: (url: string, version: number, body: object) =>
      server.send('PATCH', url, body, { 'if-match': `"${version}"`, ...headers() }),
  };
};
const FLASK = {
  kind: 'volumetric-flask',
  nominalVolumeMl: '100',
  basis: 'contain',
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
};
const MARKED = { ...FLASK, tolerance: { markedMl: '0.1' } };
let tags = 0;

/** A finished calibration of a flask with a marked tolerance, weighed by a technician. */
const measured = async (vessel: object = MARKED): Promise<string> => {
  tags += 1;
  const tom = as('Tom Technician');
  const vesselId = idOf(await tom.post('/api/vessels', { ...vessel, tag: `S-${tags}` }));
  const plan = { points: ['100'], plannedTrials: 3, conditions: { inspected: true } };
  const id = idOf(await tom.post(`/api/vessels/${vesselId}/calibrations`, plan));
  for (const filledG of ['160.8371', '160.8380', '160.8290'])
    await tom.post(`/api/calibrations/${id}/trials`, {
      pointMl: '100',
      emptyG: '61.2034',
      filledG,
      waterTemperatureC: '21.3',
    });
  expect((await tom.post(`/api/calibrations/${id}/measured`, {})).status).toBe(201);
  return id;
};
const step = (name: string, id: string, what: string, body: object = {}) =>
  as(name).post(`/api/calibrations/${id}/${what}`, { password: PASSPHRASE, ...body });
const issued = async (vessel?: object): Promise<{ id: string; number: string }> => {
  const id = await measured(vessel);
  expect((await step('Tom Technician', id, 'check')).status).toBe(201);
  const reply = await step('Ada Keeper', id, 'issue');
  expect(reply.status).toBe(201);
  return { id, number: String(reply.body['number']) };
};
const certificate = async (number: string): Promise<Certificate> => {
  const reply = await as('Pia Auditor').get(`/api/certificates/${number}`);
  expect(reply.status).toBe(200);
  return reply.body as unknown as Certificate;
};
const page = async (id: string) => (await as('Pia Auditor').get(`/api/calibrations/${id}`)).body;

beforeAll(async () => {
  server = await TestServer.start();
  const reply = await server.send('POST', '/api/setup', { code: SETUP_CODE, name: 'Ada Keeper', password: PASSPHRASE });
  expect(reply.status).toBe(201);
  cookies['Ada Keeper'] = cookieOf(reply);
  const { body } = await as('Ada Keeper').get('/api/people');
  const [ada] = body['items'] as { id: string; version: number; mayIssue: boolean }[];
  if (!ada?.mayIssue)
    await as('Ada Keeper').patch(`/api/people/${ada?.id}`, ada?.version ?? 1, { mayIssue: true, reason: 'signs here' });
  await addPerson('Tom Technician', 'technician', false);
  await addPerson('Ina Issuer', 'technician', true);
  await addPerson('Pia Auditor', 'auditor', false);
});
afterAll(() => server.end());

describe('the way to issued', () => {
  it('goes by check and issue, each signed, and freezes what the journal holds the hash of', async () => {
    const { id, number } = await issued();
    expect(number).toBe('2026-00001');
    expect(await page(id)).toMatchObject({
      state: 'issued',
      signatures: [
        { meaning: 'measured', name: 'Tom Technician', ownWork: true },
        { meaning: 'checked', name: 'Tom Technician', ownWork: true },
        { meaning: 'issued', name: 'Ada Keeper', ownWork: false },
      ],
      certificates: [{ number, state: 'valid', issuedBy: 'Ada Keeper' }],
    });
    const row = looking(server.logbook.file, (handle) =>
      handle
        .prepare<[string], { frozen: string; frozen_hash: string; entry_number: number; entry_hash: string }>(
          'select * from certificate where number = ?',
        )
        .get(number),
    );
    const hash = createHash('sha256')
      .update(row?.frozen ?? '', 'utf8')
      .digest('hex');
    expect(row?.frozen_hash).toBe(hash);
    expect(row?.frozen).toBe(canonicalJson(JSON.parse(row?.frozen ?? '')));
    const entry = looking(server.logbook.file, (handle) =>
      handle
        .prepare<[number], { act: string; after: string; hash: string }>(
          'select act, after, hash from journal_entry where number = ?',
        )
        .get(row?.entry_number ?? 0),
    );
    expect(entry).toMatchObject({ act: 'certificate-issued', hash: row?.entry_hash });
    expect(JSON.parse(entry?.after ?? '')).toMatchObject({ frozenHash: hash, calibrationId: id });
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('keeps the paper, whose hashes stand in an entry that follows', async () => {
    const { number } = await issued();
    const { files, entry } = await certificate(number);
    expect(files.map(({ format }) => format)).toEqual(['pdf', 'xml']);
    const rendered = looking(server.logbook.file, (handle) =>
      handle
        .prepare<[string], { number: number; after: string }>(
          "select number, after from journal_entry where object = ? and act = 'certificate-rendered'",
        )
        .all(`certificate/${number}`),
    );
    expect(rendered).toHaveLength(1);
    expect(rendered[0]?.number).toBeGreaterThan(entry.number);
    expect(JSON.parse(rendered[0]?.after ?? '')).toEqual(
      Object.fromEntries(files.map(({ format, sha256 }) => [format, sha256])),
    );
    for (const { format, sha256 } of files) {
      const reply = await server.app.inject({
        method: 'GET',
        url: `/api/certificates/${number}/${format}`,
        headers: { cookie: cookies['Pia Auditor'] ?? '' },
      });
      expect(createHash('sha256').update(reply.rawPayload).digest('hex')).toBe(sha256);
    }
  });

  it('is refused out of order', async () => {
    const id = await measured();
    expectProblem(await step('Ada Keeper', id, 'issue'), ['state-conflict']);
    await step('Tom Technician', id, 'check');
    expectProblem(await step('Tom Technician', id, 'check'), ['state-conflict']);
    expectProblem(await step('Ada Keeper', id, 'amendment', REASON), ['state-conflict']);
    await step('Ada Keeper', id, 'issue');
    expectProblem(await step('Ada Keeper', id, 'issue'), ['state-conflict']);
    expectProblem(await as('Tom Technician').post(`/api/calibrations/${id}/reopening`, REASON), ['state-conflict']);
    expectProblem(await as('Tom Technician').post(`/api/calibrations/${id}/abandonment`, REASON), ['state-conflict']);
  });

  it('needs the passphrase each time, and the permission to issue', async () => {
    const id = await measured();
    expectProblem(await as('Tom Technician').post(`/api/calibrations/${id}/check`, {}), ['passphrase-needed']);
    expectProblem(await step('Tom Technician', id, 'check', { password: 'eight quiet burettes' }), [
      'wrong-passphrase',
      '#/password',
    ]);
    expectProblem(await step('Pia Auditor', id, 'check'), ['not-allowed']);
    await step('Tom Technician', id, 'check');
    expectProblem(await step('Tom Technician', id, 'issue'), ['not-allowed']);
    expect((await step('Ina Issuer', id, 'issue')).status).toBe(201);
  });

  it('answers the same issue again as before, with one certificate', async () => {
    const id = await measured();
    await step('Tom Technician', id, 'check');
    const key = freshKey();
    const body = { password: PASSPHRASE };
    const first = await as('Ada Keeper').post(`/api/calibrations/${id}/issue`, body, key);
    const second = await as('Ada Keeper').post(`/api/calibrations/${id}/issue`, body, key);
    expect(second).toMatchObject({ status: 201, body: first.body });
    expect((await page(id))['certificates']).toHaveLength(1);
  });

  it('never writes a passphrase down', () => {
    const found = looking(server.logbook.file, (handle) =>
      ['journal_entry', 'idempotency_key', 'calibration_act', 'certificate'].filter((table) =>
        JSON.stringify(handle.prepare(`select * from ${table}`).all()).includes(PASSPHRASE),
      ),
    );
    expect(found).toEqual([]);
  });
});

describe('going back', () => {
  it('opens a checked calibration with a reason, and its signatures lapse but stay readable', async () => {
    const id = await measured();
    await step('Tom Technician', id, 'check');
    expect((await as('Tom Technician').post(`/api/calibrations/${id}/reopening`, REASON)).status).toBe(201);
    const opened = await page(id);
    expect(opened).toMatchObject({ state: 'open', signatures: [] });
    expect((opened['acts'] as { act: string }[]).map(({ act }) => act)).toContain('calibration-checked');
  });

  it('amends by a new certificate that names the old one and why; the old one says it was replaced', async () => {
    const { id, number } = await issued();
    const why = { reason: 'trial 3 was filled beside the mark' };
    expect((await step('Ada Keeper', id, 'amendment', why)).status).toBe(201);
    expect(await certificate(number)).toMatchObject({ state: 'valid', replacedBy: null });
    const exclusion = { cause: 'wrong-mark', ...why };
    await as('Tom Technician').post(`/api/calibrations/${id}/trials/3/exclusion`, exclusion);
    await as('Tom Technician').post(`/api/calibrations/${id}/measured`, why);
    await step('Tom Technician', id, 'check');
    const again = await step('Ada Keeper', id, 'issue');
    const next = String(again.body['number']);
    expect(Number(next.slice(5))).toBeGreaterThan(Number(number.slice(5)));
    expect(await certificate(number)).toMatchObject({
      state: 'replaced',
      replacedBy: next,
      replacedBecause: why.reason,
      differences: [],
    });
    expect(await certificate(next)).toMatchObject({ state: 'valid', replaces: number, reason: why.reason });
  });

  it('withdraws a certificate without a successor', async () => {
    const { id, number } = await issued();
    const url = `/api/calibrations/${id}/certificates/${number}/withdrawal`;
    const body = { password: PASSPHRASE, reason: 'the balance was found wrong' };
    expect((await as('Ada Keeper').post(url, body)).status).toBe(201);
    expect(await certificate(number)).toMatchObject({ state: 'withdrawn', withdrawal: { reason: body.reason } });
    expectProblem(await as('Ada Keeper').post(url, body), ['state-conflict']);
    expectProblem(await step('Ada Keeper', id, 'amendment', REASON), ['state-conflict']);
  });
});

describe('a second person', () => {
  it('checks where the laboratory demands it', async () => {
    const { body } = await as('Ada Keeper').get('/api/laboratory');
    const version = Number(body['version']);
    await as('Ada Keeper').patch('/api/laboratory', version, { secondPersonChecks: true });
    const id = await measured();
    expectProblem(await step('Tom Technician', id, 'check'), ['second-person']);
    expect((await step('Ina Issuer', id, 'check')).status).toBe(201);
    await as('Ada Keeper').patch('/api/laboratory', version + 1, { secondPersonChecks: false });
  });
});

describe('a verdict on paper', () => {
  const CLASSED = { ...FLASK, tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' } };

  it('stands where the tolerance is marked on the vessel', async () => {
    const { number } = await issued();
    expect(await certificate(number)).toMatchObject({ toleranceBasis: { kind: 'marked' }, verdictPrinted: true });
  });

  it('waits for a keeper who saw the value in the standard, and later certificates name who and where', async () => {
    const before = await issued(CLASSED);
    expect(await certificate(before.number)).toMatchObject({
      toleranceBasis: { kind: 'not-checked' },
      verdictPrinted: false,
      verdict: null,
    });
    const row = { standard: 'ISO 1042', edition: '1998', kind: 'volumetric-flask', class: 'A', nominalVolumeMl: '100' };
    const seen = { ...row, whereSeen: 'table 1 of our copy' };
    expect((await as('Ada Keeper').post('/api/tolerances/confirmations', seen)).status).toBe(201);
    const after = await issued(CLASSED);
    expect(await certificate(after.number)).toMatchObject({
      toleranceBasis: { kind: 'confirmed', whereSeen: seen.whereSeen, by: 'Ada Keeper' },
      verdictPrinted: true,
    });
    // What was issued before stays as it was issued.
    expect(await certificate(before.number)).toMatchObject({ verdictPrinted: false, differences: [] });
  });

  it('is not printed where the flask was calibrated on another basis than marked', async () => {
    tags += 1;
    const vesselId = idOf(await as('Tom Technician').post('/api/vessels', { ...MARKED, tag: `S-${tags}` }));
    const plan = { points: ['100'], plannedTrials: 1, basis: 'deliver', conditions: { inspected: true } };
    const id = idOf(await as('Tom Technician').post(`/api/vessels/${vesselId}/calibrations`, plan));
    const trial = { pointMl: '100', emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' };
    await as('Tom Technician').post(`/api/calibrations/${id}/trials`, trial);
    await as('Tom Technician').post(`/api/calibrations/${id}/measured`, {});
    await step('Tom Technician', id, 'check');
    const reply = await step('Ada Keeper', id, 'issue');
    expect(await certificate(String(reply.body['number']))).toMatchObject({
      toleranceBasis: { kind: 'none' },
      verdictPrinted: false,
    });
  });
});

describe('an issued result', () => {
  it('is listed newest first, found by tag and number, page by page without a gap', async () => {
    const numbers: string[] = [];
    let cursor = '';
    do {
      const { body } = await as('Pia Auditor').get(`/api/certificates?limit=3${cursor && `&cursor=${cursor}`}`);
      numbers.push(...(body['items'] as { number: string }[]).map((item) => item.number));
      cursor = (body['next'] as string | null) ?? '';
    } while (cursor !== '');
    expect(numbers).toEqual([...new Set(numbers)].sort().reverse());
    expect(numbers.at(-1)).toBe('2026-00001');
    const { body } = await as('Pia Auditor').get('/api/certificates?search=S-1&state=valid');
    expect(body['items']).toContainEqual(expect.objectContaining({ number: '2026-00001', tag: 'S-1' }));
  });

  it('shows a row that was changed behind the record’s back as a finding', async () => {
    const { id, number } = await issued();
    expect((await certificate(number)).differences).toEqual([]);
    const { default: Database } = await import('better-sqlite3');
    const handle = new Database(server.logbook.file);
    handle.exec('drop trigger trial_no_update');
    handle.prepare("update trial set filled_g = '160.8372' where calibration_id = ? and number = 1").run(id);
    handle.close();
    const { differences } = await certificate(number);
    expect(differences.map(({ code }) => code)).toEqual(['recorded-otherwise']);
    expect(differences[0]?.detail).toContain('trials/0/filledG');
    const findings = (await page(id))['findings'] as { code: string }[];
    expect(findings.map(({ code }) => code)).toEqual(expect.arrayContaining(['signature-void', 'recorded-otherwise']));
  });
});
