import { describe, expect, it } from 'vitest';
import { lineOf } from '../../server/metrology/component.ts';
import { meniscusComponent, settingSpreadMl } from '../../server/metrology/meniscus.ts';
import { neckMlPerMm, readingMark } from '../../server/metrology/reading-mark.ts';
import type { Basis, VesselFacts } from '../../server/metrology/record.ts';
import type { Finding } from '../../server/metrology/result.ts';
import { findTolerance, rowOf, toleranceMlAt } from '../../server/metrology/tolerance.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { codes, flask } from './make.ts';

function setting(vessel: VesselFacts, basis: Basis = vessel.basis) {
  const row = rowOf(findTolerance(toleranceRows, vessel));
  const mark = readingMark(vessel, basis, row, toleranceRows);
  const toleranceMl = toleranceMlAt(vessel, row, Number(vessel.nominalVolumeMl));
  const findings: Finding[] = [];
  const line = lineOf(meniscusComponent(mark, toleranceMl, null, findings));
  return { line, codes: codes(findings), spreadMl: settingSpreadMl(mark, toleranceMl) };
}

const SQRT3 = Math.sqrt(3);
const ring = (diameterMm: number, heightMm: number) => ((Math.PI / 4) * diameterMm ** 2 * heightMm) / 1000;

describe('setting a ring mark', () => {
  // π/4·d²·0.05 mm/√3: check values of the reference formulas
  it.each([
    ['12', 0.003265],
    ['3', 0.000204],
  ])('in a neck of %s mm: %d mL', (neckDiameterMm, expected) => {
    const { line } = setting(flask({ neckDiameterMm }));
    expect(Math.abs(line.contributionMl - expected)).toBeLessThanOrEqual(0.5e-6);
    expect(line).toMatchObject({ assumed: false, unit: 'mm' });
  });

  it('1 mm in a neck of 12 mm is 0.1131 mL', () => {
    expect(Math.abs(neckMlPerMm(12) - 0.1131)).toBeLessThanOrEqual(0.00005);
  });

  it('takes the largest neck of its standard where the vessel says nothing', () => {
    // ISO 1042: 13 ± 1 mm at 100 mL
    const { line, codes: found } = setting(flask());
    expect(line.contributionMl).toBeCloseTo(ring(14, 0.05) / SQRT3, 14);
    expect(line.assumed).toBe(false);
    expect(found).toEqual([]);
  });

  it.each([
    ['100', 14],
    ['300', 21],
    ['4', 8],
  ])('takes the ISO 1042 neck of the next size for %s mL of another standard, and says so', (nominalVolumeMl, neck) => {
    const { line, codes: found } = setting(flask({ nominalVolumeMl, tolerance: { markedMl: '0.3' } }));
    expect(line.contributionMl).toBeCloseTo(ring(neck, 0.05) / SQRT3, 14);
    expect(line.assumed).toBe(true);
    expect(found).toEqual(['neck-assumed']);
  });

  it('has nothing to go by above the largest size: a tenth of the tolerance', () => {
    const { line, codes: found } = setting(flask({ nominalVolumeMl: '10000', tolerance: { markedMl: '2' } }));
    expect(line.contributionMl).toBeCloseTo(0.2 / SQRT3, 14);
    expect(found).toEqual(['meniscus-assumed']);
  });

  it.each([
    ['10', 4],
    ['10.1', 6],
    ['50', 6],
  ])('of a %s mL pipette without known bore: %d mm', (nominalVolumeMl, bore) => {
    const pipette = { kind: 'single-volume-pipette', basis: 'deliver', nominalVolumeMl } as const;
    const { line } = setting(flask({ ...pipette, tolerance: { markedMl: '0.05' } }));
    expect(line.contributionMl).toBeCloseTo(ring(bore, 0.05) / SQRT3, 14);
    expect(line.assumed).toBe(true);
  });
});

describe('setting a scale', () => {
  const cylinder = (facts: Partial<VesselFacts>) =>
    flask({ kind: 'measuring-cylinder', tolerance: { markedMl: '0.5' }, divisionMl: '1', ...facts });

  it('to contain: a tenth of a division; to deliver: √2 times that', () => {
    expect(setting(cylinder({})).line.contributionMl).toBeCloseTo(0.1 / SQRT3, 14);
    expect(setting(cylinder({}), 'deliver').line.contributionMl).toBeCloseTo((0.1 * Math.SQRT2) / SQRT3, 14);
  });

  it('takes the division of its standard where the vessel says nothing', () => {
    const vessel = cylinder({ divisionMl: null, tolerance: { standard: 'ISO 4788', edition: '2005', class: 'A' } });
    expect(setting(vessel).line.contributionMl).toBeCloseTo(0.1 / SQRT3, 14);
  });

  it('without any division: a tenth of the tolerance, and without that nothing', () => {
    const unknown = setting(cylinder({ divisionMl: null }));
    expect(unknown.line.contributionMl).toBeCloseTo(0.05 / SQRT3, 14);
    expect(unknown.codes).toEqual(['meniscus-assumed']);
    const nothing = setting(flask({ kind: 'other', tolerance: null }));
    expect(nothing.line.contributionMl).toBe(0);
    expect(nothing.codes).toEqual(['meniscus-unknown']);
  });
});

describe('setting a printed mark', () => {
  const beaker = (facts: Partial<VesselFacts>) =>
    flask({ kind: 'beaker', tolerance: { markedPercent: '5' }, ...facts });

  it('is the larger of 1 mm and a quarter of a division', () => {
    const tall = setting(beaker({ neckDiameterMm: '50', divisionMl: '1' }));
    expect(tall.line.contributionMl).toBeCloseTo(ring(50, 1) / SQRT3, 14);
    const coarse = setting(beaker({ neckDiameterMm: '50', divisionMl: '25' }));
    expect(coarse.line.contributionMl).toBeCloseTo(6.25 / SQRT3, 14);
  });

  it('knows one of the two, or neither', () => {
    expect(setting(beaker({ divisionMl: '25' })).line.contributionMl).toBeCloseTo(6.25 / SQRT3, 14);
    expect(setting(beaker({ neckDiameterMm: '50' })).line.contributionMl).toBeCloseTo(ring(50, 1) / SQRT3, 14);
    expect(setting(beaker({})).codes).toEqual(['meniscus-assumed']);
  });
});

describe('no meniscus', () => {
  it.each(['pycnometer', 'piston-pipette'] as const)('%s', (kind) => {
    const { line, codes: found, spreadMl } = setting(flask({ kind, tolerance: null }));
    expect([line.contributionMl, spreadMl]).toEqual([0, 0]);
    expect(found).toEqual([]);
  });
});

describe('the rule of the line is recorded', () => {
  it.each([
    ['upper-edge', 'upper edge'],
    ['centre', 'centre'],
  ] as const)('%s', (rule, words) => {
    const mark = readingMark(flask(), 'contain', null, toleranceRows);
    expect(meniscusComponent(mark, 0.1, rule, []).source).toContain(words);
  });
});

describe('spread of setting from trial to trial', () => {
  it.each([
    ['ring mark, 14 mm: 0.1 mm', flask(), ring(14, 0.1)],
    ['scale: 0.15 division', flask({ kind: 'burette', divisionMl: '0.1', tolerance: null }), 0.015],
    ['printed mark: half a division', flask({ kind: 'beaker', divisionMl: '10', tolerance: null }), 5],
    ['printed mark: 1 mm', flask({ kind: 'conical-flask', neckDiameterMm: '60', tolerance: null }), ring(60, 1)],
  ])('%s', (_name, vessel, expected) => {
    expect(setting(vessel).spreadMl).toBeCloseTo(expected, 14);
  });
});
