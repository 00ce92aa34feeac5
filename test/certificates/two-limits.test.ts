/** A piston pipette on paper: both limits, both verdicts, and a confirmation that is of both. */
import { describe, expect, it } from 'vitest';
import { certificateXml } from '../../server/certificates/dcc/certificate.ts';
import { deviations, toleranceWords, verdictRemarks, verdictStatement } from '../../server/certificates/statements.ts';
import type { VesselFacts } from '../../server/metrology/record.ts';
import { toleranceBasis } from '../../server/tolerances/view-basis.ts';
import { ENTRY, flaskRecord, issued, weighings } from './samples.ts';

const STANDARD = { standard: 'ISO 8655-2', edition: '2002', class: '-' };
const pipette = (tolerance: VesselFacts['tolerance']): VesselFacts => ({
  kind: 'piston-pipette',
  nominalVolumeMl: '1',
  basis: 'deliver',
  material: 'polypropylene',
  referenceTemperatureC: '20',
  tolerance,
});
const record = (tolerance: VesselFacts['tolerance']) =>
  flaskRecord({ vessel: pipette(tolerance), points: ['1'], trials: weighings('1', 0.9967, 10, 0.0005) });
const CONFIRMED = {
  kind: 'confirmed',
  whereSeen: 'the standard',
  by: 'Mira Halm',
  at: '2026-03-01T08:00:00.000Z',
} as const;
const seen = (limit: string) => ({
  standard: 'ISO 8655-2',
  edition: '2002',
  kind: 'piston-pipette',
  class: '-',
  nominalVolumeMl: 1,
  divisionMl: null,
  limit,
  whereSeen: CONFIRMED.whereSeen,
  at: CONFIRMED.at,
  by: CONFIRMED.by,
});

describe('a certificate of a piston pipette', () => {
  // ISO 8655-2:2002, 1000 µL: systematic 8 µL, random 3 µL, as in a journal article of 2019 on micropipettes.
  const paper = issued(record(STANDARD), { toleranceBasis: CONFIRMED, toleranceName: 'ISO 8655-2:2002' });

  it('says both limits, both verdicts, and that U is taken off the systematic one alone', () => {
    expect(toleranceWords(paper)).toBe('systematic ±0.00800 mL, random 0.003 mL');
    expect(verdictStatement(paper)).toMatch(
      /^pass: mean volume and spread against ISO 8655-2:2002 .*both have to be within/,
    );
    expect(verdictRemarks(paper).join(' ')).toMatch(
      /At 1 mL systematic error: pass; random error: pass, spread 0\.000\d+ mL against 0\.003 mL\./,
    );
  });

  it('says the same in its data', () => {
    const xml = certificateXml(paper, ENTRY).toString('utf8');
    expect(xml).toContain('Limit of the random error');
    expect(xml).toContain('0.003');
    expect(xml).toContain('random error: pass');
  });

  it('gives nothing of a verdict away where the limits were not checked', () => {
    const spread = flaskRecord({
      vessel: pipette(STANDARD),
      points: ['1'],
      trials: weighings('1', 0.9967, 10, 0.006),
    });
    const unchecked = issued(spread, { toleranceBasis: { kind: 'not-checked' } });
    expect(unchecked.result.verdict).toBe('fail');
    expect(verdictRemarks(unchecked)).toEqual([]);
    expect(deviations(unchecked).join(' ')).not.toMatch(/random limit/);
  });
});

describe('a confirmation', () => {
  it('is of both limits: one of the systematic limit alone confirms no row of two', () => {
    expect(toleranceBasis(record(STANDARD), [seen('0.008 mL')]).basis.kind).toBe('not-checked');
    expect(toleranceBasis(record(STANDARD), [seen('0.008 mL, random 0.003 mL')]).basis.kind).toBe('confirmed');
  });

  it('is asked for the random limit of the table where the systematic one is marked', () => {
    expect(toleranceBasis(record({ ...STANDARD, markedMl: '0.008' }), []).basis.kind).toBe('not-checked');
    expect(toleranceBasis(record({ markedMl: '0.008' }), []).basis.kind).toBe('marked');
  });
});
