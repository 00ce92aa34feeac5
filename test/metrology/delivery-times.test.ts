import { describe, expect, it } from 'vitest';
import { deliveryLimitsS } from '../../server/metrology/delivery-times.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { proposePoints } from '../../server/metrology/points-proposed.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { codes, flask, record, trial } from './make.ts';

const rowOf = (standard: string, nominalMl: number, kind: string, grade: string) => {
  const row = toleranceRows.find(
    (one) => one.standard === standard && one.nominalMl === nominalMl && one.kind === kind && one.class === grade,
  );
  if (row === undefined) throw new Error(`no row ${standard} ${nominalMl}`);
  return row;
};

describe('delivery times of the standards', () => {
  it.each([
    // ASTM E969-02, table 1: minimum outflow times of transfer pipettes, class A and B, read in the standard.
    [0.5, 'A', 5],
    [0.5, 'B', 3],
    [2, 'A', 8],
    [5, 'A', 8],
    [5, 'B', 8],
    [6, 'A', 10],
  ])('ASTM E969, %d mL class %s: at least %i s', (nominal, grade, least) => {
    const row = rowOf('ASTM E969', nominal, 'single-volume-pipette', grade);
    expect(deliveryLimitsS(row, nominal, nominal)).toMatchObject({ min: least });
  });

  it('ISO 648 class AS, 10 mL: 8 to 12 s, from memory', () => {
    const row = rowOf('ISO 648', 10, 'single-volume-pipette', 'AS');
    expect(deliveryLimitsS(row, 10, 10)).toEqual({ min: 8, max: 12 });
  });

  it('USP <31>: not above 0.5 mL/s, over what is delivered', () => {
    const row = rowOf('USP <31>', 50, 'burette', 'A');
    expect(deliveryLimitsS(row, 50, 50)).toEqual({ min: 100 });
    expect(deliveryLimitsS(row, 10, 50)).toEqual({ min: 20 });
  });

  it('are a finding at a trial that was faster', () => {
    const vessel = flask({
      kind: 'single-volume-pipette',
      nominalVolumeMl: '10',
      basis: 'deliver',
      tolerance: { standard: 'USP <31>', edition: 'USP 29', class: 'A' },
    });
    const readings = { pointMl: '10', emptyG: '10.0000', filledG: '19.9700' };
    const run = (deliveryTimeS: string) =>
      codes(
        evaluate(record({ vessel, trials: [trial({ ...readings, deliveryTimeS })] }), toleranceRows).trials[0]
          ?.findings ?? [],
      );
    expect(run('19')).toContain('delivery-time-outside');
    expect(run('20')).not.toContain('delivery-time-outside');
  });
});

describe('points proposed from practice', () => {
  it.each([
    // ISO 8655-6: piston pipettes at 10, 50 and 100 %.
    ['piston-pipette', '0.2', ['0.2', '0.1', '0.02']],
    // Common practice, no source.
    ['burette', '50', ['50', '25', '5']],
    ['graduated-pipette', '5', ['5', '2.5', '0.5']],
    ['measuring-cylinder', '100', ['100', '50', '10']],
    ['volumetric-flask', '100', ['100']],
  ] as const)('%s of %s mL', (kind, nominalVolumeMl, proposed) => {
    const found = proposePoints({ kind, nominalVolumeMl });
    expect(found.proposed).toEqual(proposed);
    expect(found.offered).toEqual(expect.arrayContaining([...proposed]));
  });

  it('are the marks where they are listed', () => {
    expect(proposePoints({ kind: 'beaker', nominalVolumeMl: '250', marks: ['50', '150', '250'] }).proposed).toEqual([
      '50',
      '150',
      '250',
    ]);
  });
});
