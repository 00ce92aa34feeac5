import { describe, expect, it } from 'vitest';
import { VESSEL_KINDS } from '../../server/metrology/record.ts';
import type { VesselFacts } from '../../server/metrology/record.ts';
import {
  findTolerance,
  rowName,
  rowOf,
  sameStandardRows,
  toleranceChoices,
  toleranceMlAt,
  toleranceSource,
  unusualMark,
} from '../../server/metrology/tolerance.ts';
import type { ToleranceRow } from '../../server/metrology/tolerance.ts';
import {
  toleranceRows,
  toleranceSources,
  toleranceStandards,
  toleranceTableVersion,
} from '../../server/metrology/tolerance-table.ts';
import { TOLERANCES_VERSION } from '../../server/metrology/versions.ts';
import { flask } from './make.ts';

function keyOf(row: ToleranceRow): string {
  return [row.standard, row.edition, row.kind, row.class, row.nominalMl, row.divisionMl].join('|');
}

function named(standard: string, edition: string, letter: string, facts: Partial<VesselFacts>): VesselFacts {
  return flask({ tolerance: { standard, edition, class: letter }, ...facts });
}

/** Limit in mL, or what stood in the way. */
function limit(vessel: VesselFacts, pointMl = Number(vessel.nominalVolumeMl)): number | string | null {
  const match = findTolerance(toleranceRows, vessel);
  return match.outcome === 'unknown' ? match.pointer : toleranceMlAt(vessel, rowOf(match), pointMl);
}

describe('the tolerance table', () => {
  it('has 320 rows with a key of their own', () => {
    expect(toleranceRows).toHaveLength(320);
    expect(new Set(toleranceRows.map(keyOf)).size).toBe(320);
  });

  it('belongs to this computation', () => expect(toleranceTableVersion).toBe(TOLERANCES_VERSION));

  it('names only kinds, sources and standards that exist', () => {
    for (const row of toleranceRows) {
      expect(VESSEL_KINDS).toContain(row.kind);
      expect(toleranceStandards.some((one) => one.id === row.standard && one.edition === row.edition)).toBe(true);
      for (const source of row.sources) expect(toleranceSources).toHaveProperty(source);
      expect(row.toleranceMl ?? row.tolerancePercent).toBeGreaterThan(0);
    }
  });

  it('says of each row how far it was checked: 49 read in the standard, 3 sorts of evidence', () => {
    expect(toleranceRows.filter((row) => row.readInStandard)).toHaveLength(49);
    expect(new Set(toleranceRows.map((row) => row.verification))).toEqual(
      new Set(['two sources agree', 'one source', 'from memory']),
    );
  });

  it('has 15 pairs in which class B is not twice class A, so no class is worked out from another', () => {
    const pairs = toleranceRows
      .filter((row) => row.class === 'B')
      .map((b) => ({ a: toleranceRows.find((row) => keyOf(row) === keyOf({ ...b, class: 'A' })), b }))
      .filter((pair) => pair.a !== undefined);
    const odd = pairs.filter(({ a, b }) => Math.abs((b.toleranceMl ?? 0) / (a?.toleranceMl ?? 1) - 2) > 1e-9);
    expect(pairs).toHaveLength(103);
    expect(odd.map(({ b }) => `${b.standard} ${b.nominalMl}/${b.divisionMl ?? ''}`)).toEqual([
      'ISO 648 1/',
      'ISO 648 100/',
      'ISO 835 1/0.01',
      'ISO 835 5/0.05',
      'ISO 385 10/0.02',
      'ISO 385 10/0.05',
      'ISO 385 25/0.05',
      'ASTM E969 6/',
      'ASTM E969 7/',
      'US trade TC cylinders 10/',
      'US trade TC cylinders 25/',
      'US trade TC cylinders 100/',
      'US trade TC cylinders 250/',
      'US trade TC cylinders 500/',
      'US trade TC cylinders 1000/',
    ]);
  });

  it('has classes A and AS with equal limits everywhere', () => {
    const as = toleranceRows.filter((row) => row.class === 'AS');
    expect(as.length).toBeGreaterThan(20);
    for (const row of as) {
      const a = toleranceRows.find((one) => keyOf(one) === keyOf({ ...row, class: 'A' }));
      expect(a?.toleranceMl).toBe(row.toleranceMl);
    }
  });

  it('asks for the division where two rows are left without it', () => {
    const twice = new Set<string>();
    const seen = new Set<string>();
    for (const row of toleranceRows) {
      const key = keyOf({ ...row, divisionMl: null });
      if (seen.has(key)) twice.add(key);
      seen.add(key);
    }
    expect(twice.size).toBe(15);
  });
});

describe('finding the row of a vessel', () => {
  it.each([
    ['ISO 1042', '1998', 'A', '100', 0.1],
    ['ISO 1042', '1998', 'B', '2000.0', 1.2],
    ['ISO 1042', '1998', 'A', '5', 0.025],
    ['ASTM E288', 'E288-10', 'A', '2000', 0.5],
    ['ASTM E288', 'E288-10', 'B', '100', 0.16],
    ['USP <31>', 'USP 29', 'A', '500', 0.15],
    ['ASTM E237', 'E237-02', 'A', '2', 0.015],
  ])('%s %s class %s, %s mL: %d mL', (standard, edition, letter, nominalVolumeMl, expected) => {
    expect(limit(named(standard, edition, letter, { nominalVolumeMl }))).toBe(expected);
  });

  it('a 2000 mL flask marked ±0.5 mL has the limit of ASTM E288 class A', () => {
    const marked = flask({ nominalVolumeMl: '2000', tolerance: { markedMl: '0.5' } });
    expect(limit(marked)).toBe(limit(named('ASTM E288', 'E288-10', 'A', { nominalVolumeMl: '2000' })));
    expect(toleranceSource(findTolerance(toleranceRows, marked))).toBe('marked on the vessel');
  });

  it('a 25 mL burette of ISO 385 needs its division', () => {
    const burette = named('ISO 385', '2005', 'A', { kind: 'burette', nominalVolumeMl: '25', basis: 'deliver' });
    const match = findTolerance(toleranceRows, burette);
    expect(match).toMatchObject({ outcome: 'ambiguous', pointer: '#/divisionMl' });
    expect(match.outcome === 'ambiguous' && match.detail).toContain('0.05 mL or 0.1 mL');
    expect(limit({ ...burette, divisionMl: '0.05' })).toBe(0.03);
    expect(limit({ ...burette, divisionMl: '0.10' })).toBe(0.05);
    expect(limit({ ...burette, divisionMl: '0.2' })).toBe('#/divisionMl');
  });

  it('a row without division fits a vessel with one', () => {
    const pipette = { kind: 'graduated-pipette', nominalVolumeMl: '5', basis: 'deliver', divisionMl: '0.05' } as const;
    expect(limit(named('USP <31>', 'USP 29', 'A', pipette))).toBe(0.02);
  });

  it('E1272 cylinders have one limit to contain and to deliver, ISO 4788 only to contain', () => {
    const cylinder = { kind: 'measuring-cylinder', nominalVolumeMl: '100' } as const;
    expect(limit(named('ASTM E1272', 'E1272-02', 'A', { ...cylinder, basis: 'deliver' }))).toBe(0.5);
    expect(limit(named('ASTM E1272', 'E1272-02', 'A', { ...cylinder, basis: 'contain' }))).toBe(0.5);
    expect(limit(named('ISO 4788', '2005', 'A', cylinder))).toBe(0.5);
    expect(limit(named('ISO 4788', '2005', 'A', { ...cylinder, basis: 'deliver' }))).toBe('#/basis');
  });

  it.each([
    ['#/tolerance/standard', named('ISO 9999', '1998', 'A', {})],
    ['#/tolerance/edition', named('ISO 1042', '1983', 'A', {})],
    ['#/kind', named('ISO 1042', '1998', 'A', { kind: 'burette' })],
    ['#/tolerance/class', named('ISO 1042', '1998', 'C', {})],
    ['#/nominalVolumeMl', named('ISO 1042', '1998', 'A', { nominalVolumeMl: '300' })],
    ['#/basis', named('ISO 1042', '1998', 'A', { basis: 'deliver' })],
  ])('points at %s when nothing fits', (pointer, vessel) => {
    expect(limit(vessel)).toBe(pointer);
  });

  it('a marked value judges, the named class is kept beside it', () => {
    const both = flask({ tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A', markedMl: '0.08' } });
    const match = findTolerance(toleranceRows, both);
    expect(match).toMatchObject({ outcome: 'found', marked: true, row: { class: 'A', toleranceMl: 0.1 } });
    expect(limit(both)).toBe(0.08);
  });

  it('a marked value helps where the table lists no such size', () => {
    const odd = flask({
      nominalVolumeMl: '300',
      tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A', markedMl: '0.2' },
    });
    expect(limit(odd)).toBe(0.2);
  });

  it('no tolerance at all is an answer too', () => {
    expect(findTolerance(toleranceRows, flask({ tolerance: null }))).toEqual({ outcome: 'none' });
  });
});

describe('tolerances in per cent', () => {
  const beaker = named('ASTM E960', 'unknown', '-', { kind: 'beaker', nominalVolumeMl: '250' });

  it('are of the point for beakers and conical flasks', () => {
    expect(limit(beaker, 50)).toBe(2.5);
    expect(limit(beaker, 250)).toBe(12.5);
    const conical = named('ASTM E1404', 'E1404-94', '-', { kind: 'conical-flask', nominalVolumeMl: '250' });
    expect(limit(conical, 100)).toBe(5);
  });

  it('are of the nominal volume otherwise', () => {
    const cylinder = flask({ kind: 'measuring-cylinder', tolerance: { markedPercent: '1' } });
    expect(limit(cylinder, 50)).toBe(1);
  });

  it('need no class where the standard has none', () => {
    for (const letter of ['-', '', null]) {
      const vessel = flask({ kind: 'beaker', tolerance: { standard: 'ISO 3819', edition: 'unknown', class: letter } });
      expect(limit(vessel, 100)).toBe(10);
    }
  });
});

describe('marked against named', () => {
  const vessel = (markedMl: string) =>
    flask({ tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A', markedMl } });

  it.each([
    ['0.05', false],
    ['0.2', false],
    ['0.049', true],
    ['0.21', true],
  ])('±%s mL beside ±0.1 mL: asked %s', (markedMl, asked) => {
    const row = rowOf(findTolerance(toleranceRows, vessel(markedMl)));
    expect(unusualMark(vessel(markedMl), row, '100') !== null).toBe(asked);
  });
});

describe('what a form can offer', () => {
  it('lists standards with classes, sizes and divisions of a kind', () => {
    const burettes = toleranceChoices(toleranceRows, 'burette');
    expect(burettes.map((one) => one.standard)).toEqual(['ISO 385', 'ASTM E287', 'USP <31>']);
    const iso = burettes[0];
    expect(iso?.classes).toEqual(['A', 'AS', 'B']);
    expect(iso?.sizes.find((size) => size.nominalMl === 25)?.divisionsMl).toEqual([0.05, 0.1]);
    expect(toleranceChoices(toleranceRows, 'beaker')[0]).toMatchObject({
      standard: 'ISO 3819',
      classes: ['-'],
      sizes: [],
    });
    expect(toleranceChoices(toleranceRows, 'pycnometer')).toEqual([]);
  });

  it('names rows as people do', () => {
    const name = (vessel: VesselFacts) => rowName(rowOf(findTolerance(toleranceRows, vessel)) as ToleranceRow);
    expect(name(flask())).toBe('ISO 1042:1998 class A');
    expect(name(named('ASTM E288', 'E288-10', 'B', {}))).toBe('ASTM E288 (E288-10) class B');
    expect(name(named('ISO 3819', 'unknown', '-', { kind: 'beaker' }))).toBe('ISO 3819');
  });

  it('orders the classes of one standard, tightest first', () => {
    const row = rowOf(findTolerance(toleranceRows, flask())) as ToleranceRow;
    expect(sameStandardRows(toleranceRows, flask(), row, 100).map((one) => one.class)).toEqual(['A', 'B']);
  });
});
