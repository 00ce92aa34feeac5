/** Labels: where they lie on the sheet, what they say, and whether their codes are read back by other programs. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { labelPlaces, sheetProblems, type SheetLayout } from '../../web/plots/label-sheet.ts';
import { noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { dataMatrixIn, noCodeReaders, qrCodesOf } from './code-readers.ts';

/** Invented: three by eight labels of 60 mm × 30 mm. By hand: 12 + 3·60 + 2·2 = 196 mm across, 20 + 8·30 + 7·1 = 267 mm down. */
const SHEET: SheetLayout = {
  ...{ paper: 'a4', columns: 3, rows: 8, labelWidthMm: 60, labelHeightMm: 30, marginLeftMm: 12, marginTopMm: 20 },
  ...{ gapAcrossMm: 2, gapDownMm: 1, offsetRightMm: 0, offsetDownMm: 0, firstLabel: 1 },
};

describe('the places of labels', () => {
  it('go line by line, and on from sheet to sheet', () => {
    const places = labelPlaces(SHEET, 25);
    expect([places[0], places[2], places[3], places[23], places[24]]).toEqual([
      { sheet: 0, xMm: 12, yMm: 20 },
      { sheet: 0, xMm: 136, yMm: 20 },
      { sheet: 0, xMm: 12, yMm: 51 },
      { sheet: 0, xMm: 136, yMm: 237 },
      { sheet: 1, xMm: 12, yMm: 20 },
    ]);
  });

  it('begin at the first free label, and move with the offset of the printer on every sheet', () => {
    const places = labelPlaces({ ...SHEET, firstLabel: 24, offsetRightMm: 1.5, offsetDownMm: -2 }, 2);
    expect(places).toEqual([
      { sheet: 0, xMm: 137.5, yMm: 235 },
      { sheet: 1, xMm: 13.5, yMm: 18 },
    ]);
  });

  it('lie on the paper, or it says what is needed', () => {
    expect(sheetProblems(SHEET)).toEqual([]);
    // ISO 216: A4 is 210 mm × 297 mm. Letter: 8.5 in × 11 in, 215.9 mm × 279.4 mm.
    expect(sheetProblems({ ...SHEET, columns: 4 })).toEqual([{ field: 'columns', needs: 258, has: 210 }]);
    expect(sheetProblems({ ...SHEET, paper: 'letter', rows: 9 })).toEqual([{ field: 'rows', needs: 298, has: 279.4 }]);
    expect(sheetProblems({ ...SHEET, firstLabel: 25 })).toEqual([{ field: 'firstLabel', needs: 25, has: 24 }]);
  });
});

describe('a sheet of labels', () => {
  const TAGS = ['F-0317', 'Bürette 7/b', 'A tag of forty signs, the most there are'];
  let server: TestServer;
  const ids: string[] = [];
  beforeAll(async () => {
    server = await TestServer.start();
    for (const tag of TAGS) ids.push(await server.vessel({ tag, tolerance: { markedMl: '0.5' } }));
    const calibration = await server.calibration({}, ids[0]);
    for (let trial = 0; trial < 3; trial += 1) await server.trial(calibration);
    await server.post(`/api/calibrations/${calibration}/measured`, {});
  });
  afterAll(async () => server.end());

  const addressOf = (facts: object = {}, chosen = ids) => {
    const query = { ...SHEET, vessels: chosen.join(','), ...facts };
    return `/api/labels.pdf?${new URLSearchParams(Object.entries(query).map(([name, value]) => [name, String(value)])).toString()}`;
  };
  const sheetOf = async (facts: object = {}, chosen = ids): Promise<Buffer> => {
    const reply = await server.app.inject({ method: 'GET', url: addressOf(facts, chosen) });
    expect({ status: reply.statusCode, type: reply.headers['content-type'] }).toEqual({
      status: 200,
      type: 'application/pdf',
    });
    return reply.rawPayload;
  };

  it('says tag, verdict and days', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const [page = '', ...others] = pagesOf(await sheetOf());
    expect(others).toEqual([]);
    for (const said of ['F-0317', 'Bürette 7/b', 'pass', 'on 2026-09-14', 'not calibrated'])
      expect(page).toContain(said);
    expect(pagesOf(await sheetOf({ firstLabel: 23 }))).toHaveLength(2);
  });

  it('holds QR codes that another program reads back as the tags alone', async (context) => {
    const missing = noCodeReaders();
    if (missing !== null) return context.skip(missing);
    expect(qrCodesOf(await sheetOf()).toSorted()).toEqual(TAGS.toSorted());
    // The smallest label there is.
    const small = { labelWidthMm: 38, labelHeightMm: 10 };
    expect(qrCodesOf(await sheetOf(small, ids.slice(0, 1)))).toEqual(['F-0317']);
  });

  it('holds Data Matrix codes that another program reads back', async (context) => {
    const missing = noCodeReaders();
    if (missing !== null) return context.skip(missing);
    const pdf = await sheetOf({ code: 'data-matrix' });
    for (const at of [0, 2]) {
      const { xMm = 0, yMm = 0 } = labelPlaces(SHEET, 3)[at] ?? {};
      expect(dataMatrixIn(pdf, { xMm, yMm, widthMm: 28, heightMm: 30 })).toBe(TAGS[at]);
    }
  });

  it('is refused at the field where labels would lie beside the paper, and where no vessel is named', async () => {
    const [first = ''] = ids;
    for (const [facts, field] of [
      [{ columns: 4 }, '#/columns'],
      [{ labelHeightMm: 9 }, '#/labelHeightMm'],
      [{ firstLabel: 25 }, '#/firstLabel'],
      [{ lot: first }, '#/vessels'],
    ] as const)
      expectProblem(await server.get(addressOf(facts)), ['validation-failed', field]);
    expectProblem(await server.get(addressOf({}, ['aaaaaaaaaaaa'])), ['not-found']);
  });
});
