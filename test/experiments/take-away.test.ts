/** What a class takes away, as the server hands it out: to whom, with which names, and never as evidence of a vessel. */
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openClassDoor } from '../../server/doors/class-door.ts';
import { issueAside } from '../certificates/issue-aside.ts';
import { checked, noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { exported, unzipped } from '../exports/support.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { setUp, type Browser } from '../people/people.ts';
import { joinAt, ok, openExperiment, type Joined, type Lesson } from './lesson.ts';

/** 100 g of water at 20 °C. */
const HUNDRED = { row: 'flask', emptyG: '50.000', filledG: '150.000', waterTemperatureC: '20.0' };
/** Digits that are found nowhere else. */
const RARE = { row: 'flask', emptyG: '50.731', filledG: '150.648', waterTemperatureC: '20.0' };

let server: TestServer;
let teacher: Browser;
let lesson: Lesson;
let first: Joined;
let second: Joined;
beforeAll(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
  lesson = await openExperiment(teacher);
  first = await joinAt(server, lesson.code);
  second = await joinAt(server, lesson.code);
  ok(await first.browser.post(`${first.url}/predictions`, { row: 'flask', volumeMl: '100.07', withinMl: '0.5' }));
  ok(await first.browser.post(`${first.url}/trials`, HUNDRED));
  ok(await first.browser.post(`${first.url}/trials`, { ...HUNDRED, filledG: '149.000', confirm: ['volume'] }));
  const slip = { field: 'filledG', value: '149.990', reason: 'digits swapped' };
  ok(await first.browser.post(`${first.url}/trials/flask/2/correction`, slip));
  ok(await second.browser.post(`${second.url}/trials`, RARE));
  ok(await second.browser.post(`${second.url}/trials`, { ...RARE, filledG: '150.655' }));
});
afterAll(async () => server.end());

const cookieOf = (browser: Browser): string =>
  [...browser.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
const askPdf = (browser: Browser, url: string) =>
  server.app.inject({ method: 'GET', url, headers: { cookie: cookieOf(browser) } });
const pagesAt = async (browser: Browser, url: string): Promise<string[]> => {
  const reply = await askPdf(browser, url);
  expect(reply.statusCode).toBe(200);
  expect(reply.headers['content-type']).toBe('application/pdf');
  expect(checked(reply.rawPayload)).toContain('No syntax or stream encoding errors found');
  return pagesOf(reply.rawPayload);
};
const reportUrl = (id = lesson.id) => `/api/experiments/${id}/report.pdf`;

describe('the page of a group', () => {
  // Water density 998.207 kg/m³ at 20 °C (Tanaka 2001); with the buoyancy of air of 1.2 kg/m³ against weights of
  // 8000 kg/m³ (common practice): 100 g are 100.180 mL by density and 100.285 mL in full.
  it('shows 100 g of water as simple, with density, and corrected in full', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pages = await pagesAt(first.browser, reportUrl());
    expect(pages).toHaveLength(1);
    expect(pages[0]).toContain('1 50.000 150.000 20.0 100.000 100.180 100.285');
  });

  it('shows what was foreseen, the slip beside what counts, and the mean beside that of the class', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const [page = ''] = await pagesAt(first.browser, `${reportUrl()}?group=${first.group}`);
    expect(page).toContain('100.07 ± 0.5');
    expect(page).toMatch(/2 50\.000 149\.000 .{0,40}149\.990/);
    for (const head of ['Your mean', 'Mean of the', 'You beside the']) expect(page).toContain(head);
    expect(page).toContain(first.name);
  });

  it('holds nothing of other groups', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const [page = ''] = await pagesAt(first.browser, reportUrl());
    for (const other of [second.name, RARE.filledG, RARE.emptyG, 'Group 2']) expect(page).not.toContain(other);
  });

  it('is made for a phone one at a time', async () => {
    const replies = await Promise.all([askPdf(first.browser, reportUrl()), askPdf(first.browser, reportUrl())]);
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
    expect((await askPdf(first.browser, reportUrl())).statusCode).toBe(200);
  });

  it('of another group or class is not there for a group', async () => {
    const other = await openExperiment(teacher);
    const theirs = await joinAt(server, other.code);
    for (const url of [
      `${reportUrl()}?group=${second.group}`,
      reportUrl(other.id),
      `${reportUrl(other.id)}?group=${theirs.group}`,
      `${reportUrl(other.id)}?group=${first.group}`,
    ])
      expectProblem(await first.browser.get(url), ['not-found']);
    for (const url of ['data.csv', 'worksheet.pdf', 'sheet.pdf', 'earlier'])
      expectProblem(await first.browser.get(`/api/experiments/${lesson.id}/${url}`), ['not-signed-in']);
  });

  it('is handed out at the listener for classes, and nothing else that is taken away', async () => {
    const door = await openClassDoor(server.app, '127.0.0.1', 0);
    const { port } = door.address() as AddressInfo;
    const ask = async (url: string, browser: Browser) =>
      (await fetch(`http://127.0.0.1:${port}${url}`, { headers: { cookie: cookieOf(browser) } })).status;
    try {
      expect(await ask(reportUrl(), first.browser)).toBe(200);
      expect(await ask(`${reportUrl()}?group=${second.group}`, first.browser)).toBe(404);
      expect(await ask(reportUrl(), teacher)).toBe(401);
      for (const url of ['data.csv', 'worksheet.pdf', 'worksheet.pdf?answers=true', 'sheet.pdf', 'earlier'])
        expect(await ask(`/api/experiments/${lesson.id}/${url}`, first.browser)).toBe(404);
    } finally {
      door.close();
      door.closeAllConnections();
    }
  });
});

describe('what is asked for in other words', () => {
  it.each([
    ['a group that is not there', 'report.pdf?group=aaaa', ['not-found']],
    ['an id that is none', 'report.pdf?group=A%20B', ['validation-failed', '#/group']],
    ['an unknown word', 'report.pdf?names=true', ['validation-failed', '#/names']],
    ['answers by another word', 'worksheet.pdf?answers=yes', ['validation-failed', '#/answers']],
  ] as const)('%s is refused', async (_name, url, expected) => {
    expectProblem(await teacher.get(`/api/experiments/${lesson.id}/${url}`), [...expected]);
  });

  it.each(['report.pdf', 'worksheet.pdf', 'sheet.pdf'])(
    '%s of an experiment that is not there is refused',
    async (name) => {
      expectProblem(await teacher.get(`/api/experiments/aaaa/${name}`), ['not-found']);
    },
  );
});

describe('the papers of whoever teaches', () => {
  const PAPERS = ['report.pdf', 'worksheet.pdf', 'worksheet.pdf?answers=true', 'sheet.pdf'];
  const textsAt = async (id: string) =>
    Promise.all(PAPERS.map(async (name) => (await pagesAt(teacher, `/api/experiments/${id}/${name}`)).join(' ')));

  it('hold all groups in the order of their numbers', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pages = await pagesAt(teacher, reportUrl());
    expect(pages.length).toBeLessThanOrEqual(4);
    expect(pages.at(-2)).toContain(`Group 1 · ${first.name}`);
    expect(pages.at(-1)).toContain(`Group 2 · ${second.name}`);
  });

  it('reckon with what was weighed', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const [, , answers = ''] = await textsAt(lesson.id);
    // By hand: 150.000 − 50.000, and 100.000 g ÷ 0.99821 g/mL.
    for (const said of ['Answer: 100.000 g', 'a millilitre of it has 0.99821 g', 'Answer: 100.180 mL'])
      expect(answers).toContain(said);
  });

  it('name nobody while names are hidden', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const url = `/api/experiments/${lesson.id}`;
    const hide = async (namesHidden: boolean) => {
      const { version } = ok(await teacher.get(url));
      ok(await teacher.patch(url, Number(version), { namesHidden }));
    };
    await hide(true);
    for (const text of await textsAt(lesson.id))
      for (const { name } of [first, second]) expect(text).not.toContain(name);
    expect((await pagesAt(first.browser, reportUrl()))[0]).toContain('Group 1 ');
    await hide(false);
    expect((await textsAt(lesson.id))[0]).toContain(first.name);
  });

  it('of a made-up class say so on every page', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const { id } = ok(await teacher.post(`/api/experiments/${lesson.id}/rehearsal`, { groups: 3, seed: 2 }));
    for (const name of PAPERS)
      for (const page of await pagesAt(teacher, `/api/experiments/${String(id)}/${name}`))
        expect(page).toContain('Made-up class');
  });

  it('name nobody once names were removed', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const named = await openExperiment(teacher);
    const { name } = await joinAt(server, named.code);
    ok(await teacher.post(`/api/experiments/${named.id}/closing`));
    expect((await textsAt(named.id))[0]).toContain(name);
    ok(await teacher.post(`/api/experiments/${named.id}/names-removal`));
    for (const text of await textsAt(named.id)) expect(text).not.toContain(name);
  });
});

describe('a vessel that a class filled too', () => {
  it('has none of it in its record, its certificate, its history or its export', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const alone = await TestServer.start();
    const vesselId = await alone.vessel({ tag: 'SHARED-1', tolerance: { markedMl: '0.1' } });
    const row = {
      ...{ key: 'flask', label: 'Shared flask', kind: 'volumetric-flask', nominalVolumeMl: '100', basis: 'contain' },
      ...{ vesselIds: [vesselId], trialsPerGroup: 3 },
    };
    const { id } = await openExperiment(alone, { rows: [row] });
    const { items } = ok(await alone.post(`/api/experiments/${id}/groups`, { count: 1 })) as {
      items: { id: string }[];
    };
    const url = `/api/experiments/${id}/groups/${items[0]?.id ?? ''}/trials`;
    ok(await alone.post(url, { ...RARE, vesselId }));
    const calibration = await alone.calibration({}, vesselId);
    for (const filledG of ['160.9371', '160.9380', '160.9375']) await alone.trial(calibration, { filledG });
    const number = await issueAside(alone, calibration);

    const fetched = async (address: string) => {
      const reply = await alone.app.inject({ method: 'GET', url: address });
      expect({ address, status: reply.statusCode }).toEqual({ address, status: 200 });
      return reply.rawPayload;
    };
    const papers = await Promise.all(
      [
        `/api/vessels/${vesselId}/history.pdf`,
        `/api/certificates/${number}/pdf`,
        `/api/terms/summary.pdf?from=2026-09-01&to=2026-09-30`,
      ].map(async (address) => pagesOf(await fetched(address)).join(' ')),
    );
    const texts = await Promise.all(
      [`/api/certificates/${number}/xml`, `/api/vessels/${vesselId}`, `/api/calibrations/${calibration}`].map(
        async (address) => (await fetched(address)).toString('utf8'),
      ),
    );
    const files = await unzipped(await exported(alone.logbook.file, { filter: { vessel: 'SHARED-1' } }));
    const narrowed = [...files.values()].map((file) => file.toString('latin1'));
    expect(papers[1]).toContain('160.9371');
    expect(narrowed.join('\n')).toContain('160.9371');
    for (const text of [...papers, ...texts, ...narrowed])
      for (const ofClass of [RARE.emptyG, RARE.filledG, 'Shared flask', id]) expect(text).not.toContain(ofClass);
    await alone.end();
  });
});
