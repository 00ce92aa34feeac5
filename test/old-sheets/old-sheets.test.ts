/** Readings from old paper: read as they are written, judged row by row, taken over once, marked for ever. */
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { detectWriting } from '../../server/old-sheets/detecting.ts';
import { dayIn, numberIn } from '../../server/old-sheets/reading.ts';
import type { OldSheetPreview, OldSheetTaken } from '../../server/old-sheets/contract.ts';
import { faultIn } from '../db/support.ts';
import { freshTag, TestServer } from '../server/support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const HEAD = ['tag', 'day', 'empty', 'filled', 'water'];
const COLUMNS = { tag: 1, performedOn: 2, emptyG: 3, filledG: 4, waterTemperatureC: 5 };
const MAPPING = {
  hasHeader: true,
  columns: COLUMNS,
  delimiter: 'semicolon',
  decimalMark: 'comma',
  dateOrder: 'day-month-year',
};
/** Written by another program's CSV, with a decimal comma. */
const listOf = (rows: readonly (readonly string[])[]): string => Papa.unparse([HEAD, ...rows], { delimiter: ';' });
const rowsFor = (tag: string): string[][] => [
  [tag, '14.03.2019', '61,2034', '160,8371', '21,3'],
  [tag, '14.03.2019', '61,2031', '160,8401', '21,3'],
];
const bodyFor = (list: string, facts: object = {}) => ({ dryRun: false, list, mapping: MAPPING, ...facts });
const preview = async (list: string, facts: object = {}): Promise<OldSheetPreview> => {
  const reply = await server.post('/api/old-sheets', { ...bodyFor(list, facts), dryRun: true });
  expect(reply.status).toBe(200);
  return reply.body as unknown as OldSheetPreview;
};
const newFlask = async () => {
  const tag = freshTag();
  await server.vessel({ tag });
  return tag;
};

describe('how a list is written', () => {
  it('is told from its own cells, and left open where two readings are possible', () => {
    expect(detectWriting('F-1;14.03.2019;61,2034')).toEqual({
      delimiter: 'semicolon',
      decimalMark: 'comma',
      dateOrder: 'day-month-year',
    });
    expect(detectWriting('F-1\t2019-03-04\t61.20')).toMatchObject({ delimiter: 'tab', dateOrder: 'year-month-day' });
    // 03/04 may be the third of April or the fourth of March; 61.203 may be thousands.
    expect(detectWriting('F-1;03/04/2019;61.203')).toMatchObject({ decimalMark: null, dateOrder: null });
    expect(detectWriting('F-1;61,2034;160.8371').decimalMark).toBeNull();
    expect(detectWriting('F-1')).toMatchObject({ delimiter: null });
  });

  it('is parted into the cells that another parser finds', async () => {
    const list = listOf([['F; 1', '14.03.2019', '61,2', '160,8', 'he said "dry"']]);
    const { sample } = await preview(list);
    expect(sample).toEqual(Papa.parse<string[]>(list, { delimiter: ';' }).data);
  });

  it.each([
    ['61,2034', 'comma', '61.2034'],
    ['61.2034', 'comma', null],
    ['1.061,2', 'comma', null],
    ['-0.5', 'point', '-0.5'],
    ['6e1', 'point', null],
  ] as const)('reads %s with a decimal %s as %s', (cell, mark, number) => {
    expect(numberIn(cell, mark)).toBe(number);
  });

  it('reads a day in the order said, and refuses one the calendar lacks', () => {
    expect(dayIn('4.3.2019', 'day-month-year')).toBe('2019-03-04');
    expect(dayIn('4/3/2019', 'month-day-year')).toBe('2019-04-03');
    expect(dayIn('31.02.2019', 'day-month-year')).toBeNull();
    expect(dayIn('4.3.19', 'day-month-year')).toBeNull();
  });
});

describe('taking over', () => {
  it('keeps readings, day and origin; says so in the result; and knows the same list again', async () => {
    const tag = await newFlask();
    const list = listOf(rowsFor(tag));
    expect((await preview(list)).calibrations).toEqual([
      { tag, performedOn: '2019-03-14', lines: [2, 3], standing: 'good' },
    ]);
    const reply = await server.post('/api/old-sheets', bodyFor(list, { rememberAs: 'Green books' }));
    expect(reply.status).toBe(201);
    const [taken] = (reply.body as unknown as OldSheetTaken).calibrations;
    expect(taken).toMatchObject({ tag, performedOn: '2019-03-14', trials: 2 });
    const page = await server.calibrationPage(taken?.id ?? '');
    expect(page).toMatchObject({ origin: 'paper', performedOn: '2019-03-14', plannedTrials: 2, state: 'open' });
    expect(page.trials.map(({ emptyG, filledG }) => [emptyG, filledG])).toEqual([
      ['61.2034', '160.8371'],
      ['61.2031', '160.8401'],
    ]);
    const codes = page.findings.map(({ code }) => code);
    expect(codes).toContain('taken-over-from-paper');
    expect(codes).toContain('entered-later');
    expect((await preview(list)).calibrations[0]?.standing).toBe('known');
    expect((await server.post('/api/old-sheets', bodyFor(list))).status).toBe(409);
    const { body } = await server.get('/api/old-sheets/mappings');
    expect(body['items']).toMatchObject([{ name: 'Green books', mapping: MAPPING }]);
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('names every problem by its row and takes over nothing, or only the good ones where that was said', async () => {
    const [good, bad] = [await newFlask(), await newFlask()];
    const list = listOf([
      ...rowsFor(good),
      [bad, '14.03.2019', '160,8371', '61,2034', '21,3'],
      ['no-such-tag', '14.03.2019', '61,2034', '160,8371', '21,3'],
      [bad, '14.03.2099', '61,2034', '160,8371', '21,3'],
      [bad, '15.03.2019', '61.2034', '160,8371', '21,3'],
      [bad, '16.03.2019', '61,2034', '160,8371', '45,0'],
    ]);
    const { problems, calibrations } = await preview(list);
    expect(problems.map(({ line, field }) => [line, field])).toEqual([
      [4, 'filledG'],
      [5, 'tag'],
      [6, 'performedOn'],
      [7, 'emptyG'],
      [8, 'waterTemperatureC'],
    ]);
    expect(calibrations.map(({ standing }) => standing)).toEqual(['good', ...Array<string>(5).fill('refused')]);
    const refused = await server.post('/api/old-sheets', bodyFor(list));
    expect(refused.status).toBe(422);
    expect(refused.body['errors']).toHaveLength(5);
    const reply = await server.post('/api/old-sheets', bodyFor(list, { onlyGood: true }));
    expect(reply.body).toMatchObject({ calibrations: [{ tag: good }], leftOut: [4, 5, 6, 7, 8] });
  });

  it('asks about a volume far off, and takes it over with a yes and a note', async () => {
    const list = listOf([[await newFlask(), '14.03.2019', '61,2034', '150,8371', '21,3']]);
    expect((await preview(list)).problems).toMatchObject([{ line: 2, field: 'filledG', confirm: 'volume' }]);
    const asked = await server.post('/api/old-sheets', bodyFor(list));
    expect([asked.status, asked.body['type']]).toEqual([422, '/problems/please-confirm']);
    const answered = bodyFor(list, { confirm: ['volume'], note: 'The book says so.' });
    expect((await server.post('/api/old-sheets', answered)).status).toBe(201);
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('enters a temperature nobody wrote down as assumed, with its range', async () => {
    const tag = await newFlask();
    const { waterTemperatureC: _water, ...columns } = COLUMNS;
    const mapping = { ...MAPPING, columns };
    const list = listOf(rowsFor(tag));
    expect((await preview(list, { mapping })).problems.map(({ line }) => line)).toEqual([2, 3]);
    const assumed = {
      waterTemperatureC: '20',
      waterTemperatureHalfWidthC: '2',
      conditions: { airTemperatureHalfWidthC: '3' },
    };
    const reply = await server.post('/api/old-sheets', bodyFor(list, { mapping, assumed }));
    const [taken] = (reply.body as unknown as OldSheetTaken).calibrations;
    const { trials } = await server.calibrationPage(taken?.id ?? '');
    expect(trials[0]).toMatchObject({ waterTemperatureC: '20', waterTemperatureHalfWidthC: '2' });
    expect(trials[0]?.findings.map(({ code }) => code)).toContain('water-temperature-assumed');
  });

  it('makes up no mass: a list of bare volumes is refused with the reason', async () => {
    const mapping = { ...MAPPING, columns: { tag: 1, performedOn: 2, filledG: 3 } };
    const reply = await server.post('/api/old-sheets', bodyFor('F-1;14.03.2019;99,95', { mapping }));
    expect(reply.body['errors']).toMatchObject([{ pointer: '#/mapping/columns/emptyG' }]);
  });

  it('guesses nothing: how the list is written has to be said', async () => {
    const reply = await server.post('/api/old-sheets', bodyFor('', { mapping: { hasHeader: true, columns: COLUMNS } }));
    expect((reply.body['errors'] as { pointer: string }[]).map(({ pointer }) => pointer)).toEqual([
      '#/mapping/delimiter',
      '#/mapping/decimalMark',
      '#/mapping/dateOrder',
    ]);
  });
});
