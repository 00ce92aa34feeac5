import { describe, expect, it } from 'vitest';
import { confirmationOf, rowKey, rowWords } from '../../web/pages/reference/confirmed-rows.ts';

const row = {
  standard: 'ISO 1042',
  edition: '1998',
  kind: 'volumetric-flask',
  class: 'A',
  nominalVolumeMl: 100,
  divisionMl: null,
  toleranceMl: 0.1,
  tolerancePercent: null,
  randomMl: null,
};
const confirmed = {
  standard: 'ISO 1042',
  edition: '1998',
  kind: 'volumetric-flask',
  class: 'A',
  nominalVolumeMl: 100,
  divisionMl: null,
  limit: '0.1 mL',
  whereSeen: 'Table 1',
  at: '2026-03-01T10:00:00.000Z',
  by: 'a keeper',
};

describe('limits seen in the standard', () => {
  it('names a row by decimal text', () => {
    expect(rowKey(row)).toMatchObject({ nominalVolumeMl: '100', divisionMl: null, class: 'A' });
  });

  it('finds the latest confirmation of the same row', () => {
    const later = { ...confirmed, at: '2026-05-01T10:00:00.000Z', whereSeen: 'Table 1, page 3' };
    expect(confirmationOf(row, [later, confirmed])?.whereSeen).toBe('Table 1, page 3');
  });

  it('takes none of another edition, another size or another limit', () => {
    const others = [
      { ...confirmed, edition: '1983' },
      { ...confirmed, nominalVolumeMl: 50 },
      { ...confirmed, limit: '0.2 mL' },
    ];
    expect(confirmationOf(row, others)).toBeUndefined();
  });

  it('takes a confirmation of one limit for none of a row with two', () => {
    const pipette = { ...row, toleranceMl: 0.008, randomMl: 0.003 };
    expect(confirmationOf(pipette, [{ ...confirmed, limit: '0.008 mL' }])).toBeUndefined();
    expect(confirmationOf(pipette, [{ ...confirmed, limit: '0.008 mL, random 0.003 mL' }])).toBeDefined();
  });

  it('says the row in one line', () => {
    expect(rowWords(row)).toBe('ISO 1042, edition 1998, class A, 100 mL: ±0.1 mL.');
  });
});
