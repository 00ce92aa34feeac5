/** A calendar of due dates: by its own token only, and readable by a general parser of iCalendar (RFC 5545). */
import { execFileSync, spawnSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { calendarOf } from '../../server/records/calendar.ts';
import { expectProblem } from '../server/attempts.ts';
import { CALIBRATION, FLASK, freshTag, idOf, TestServer, TRIAL } from '../server/support.ts';
import { addPerson, Browser, setUp } from '../people/people.ts';

let server: TestServer;
let keeper: Browser;
let technician: Awaited<ReturnType<typeof addPerson>>;
beforeAll(async () => {
  server = await TestServer.start();
  keeper = await setUp(server);
  technician = await addPerson(keeper, 'Tom', 'technician');
});
afterAll(() => server.end());

const text = async (path: string, browser = new Browser(server)) => {
  const reply = await server.app.inject({ method: 'GET', url: path, headers: browser.headers });
  return { status: reply.statusCode, type: reply.headers['content-type'], body: reply.body };
};

/** Debian's python3-icalendar; continuous integration always has it. */
const PYTHON = '/usr/bin/python3';
const READER = `
import icalendar, json, sys
calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
assert not calendar.errors, calendar.errors
print(json.dumps([
  {"uid": str(e["UID"]), "start": e.decoded("DTSTART").isoformat(), "end": e.decoded("DTEND").isoformat(),
   "summary": str(e["SUMMARY"]), "description": str(e.get("DESCRIPTION", ""))}
  for e in calendar.walk("VEVENT")]))
`;
const noReader =
  process.env['CI'] !== 'true' && spawnSync(PYTHON, ['-c', 'import icalendar']).status !== 0
    ? 'python3-icalendar is not installed'
    : null;
const read = (calendar: string): unknown =>
  JSON.parse(execFileSync(PYTHON, ['-c', READER], { input: calendar }).toString('utf8'));

const LONG = 'F-0001; with a comma, a \\ and so many letters that the line has to be folded: µL, Größe, 25 °C';

describe('the file', () => {
  it('is read by another program as it was meant', (context) => {
    if (noReader !== null) {
      context.skip(noReader);
      return;
    }
    const calendar = calendarOf(
      {
        laboratory: 'Room 3; upstairs',
        vessels: [
          { dueOn: '2027-02-28', count: 1, tags: ['F-0001'] },
          { dueOn: '2027-12-31', count: 40, tags: [LONG, 'F-0002'] },
        ],
        instruments: [{ id: 'abc', tag: 'AB-1', kind: 'balance', dueOn: '2027-03-01' }],
      },
      new Date('2026-11-26T12:00:00Z'),
    );
    // RFC 5545, 3.1: lines end with CR LF and are at most 75 octets long.
    for (const line of calendar.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    expect(read(calendar)).toEqual([
      {
        uid: 'vessels-2027-02-28@tarebook',
        start: '2027-02-28',
        end: '2027-03-01',
        summary: '1 vessel is due',
        description: 'F-0001',
      },
      {
        uid: 'vessels-2027-12-31@tarebook',
        start: '2027-12-31',
        end: '2028-01-01',
        summary: '40 vessels are due',
        description: `${LONG}\nF-0002\nand 38 more`,
      },
      {
        uid: 'instrument-abc-2027-03-01@tarebook',
        start: '2027-03-01',
        end: '2027-03-02',
        summary: 'AB-1, balance: its certificate runs out',
        description: '',
      },
    ]);
  });
});

describe('a calendar', () => {
  it('is made by somebody, read by its address alone, and ends when they say so', async () => {
    const made = await technician.browser.post('/api/calendars', { label: 'my phone' });
    expect(made).toMatchObject({ status: 201, body: { label: 'my phone' } });
    const path = String(made.body['path']);
    const vesselId = idOf(await keeper.post('/api/vessels', { ...FLASK, tag: freshTag(), intervalMonths: 12 }));
    const id = idOf(await keeper.post(`/api/vessels/${vesselId}/calibrations`, { ...CALIBRATION, plannedTrials: 1 }));
    await keeper.post(`/api/calibrations/${id}/trials`, TRIAL);
    expect((await keeper.post(`/api/calibrations/${id}/measured`, {})).status).toBe(201);
    const reply = await text(path);
    expect(reply).toMatchObject({ status: 200, type: 'text/calendar; charset=utf-8' });
    expect(reply.body).toContain('SUMMARY:1 vessel is due');
    // No answer but this one holds the token.
    const token = path.split('/')[3] ?? '';
    const listed = await technician.browser.get('/api/calendars');
    expect(JSON.stringify(listed.body)).not.toContain(token);
    const [mine] = listed.body['items'] as { id: string }[];
    expect((await technician.browser.post(`/api/calendars/${mine?.id}/ending`, {})).status).toBe(200);
    expect((await text(path)).status).toBe(401);
  });

  it('is nobody else’s to see or end, but a keeper’s', async () => {
    const other = await addPerson(keeper, 'Ann', 'auditor');
    const { body } = await technician.browser.post('/api/calendars', { label: 'tablet' });
    expect((await other.browser.get('/api/calendars')).body['items']).toEqual([]);
    const ending = `/api/calendars/${String(body['id'])}/ending`;
    expectProblem(await other.browser.post(ending, {}), ['not-found']);
    expect((await keeper.post(ending, {})).status).toBe(200);
    expectProblem(await keeper.post(ending, {}), ['state-conflict']);
  });

  it('ends with the access of whoever made it, and no other token opens it', async () => {
    const gone = await addPerson(keeper, 'Gus', 'technician');
    const path = String((await gone.browser.post('/api/calendars', { label: 'desk' })).body['path']);
    expect((await text(path)).status).toBe(200);
    expect((await text('/api/due/aaaaaaaa/calendar.ics')).status).toBe(401);
    expect((await text('/api/due/aaaaaaaa/calendar.ics', keeper)).status).toBe(401);
    const change = { active: false, reason: 'left the school' };
    expect((await keeper.send('PATCH', `/api/people/${gone.id}`, change, { 'if-match': '"1"' })).status).toBe(200);
    expect((await text(path)).status).toBe(401);
  });
});
