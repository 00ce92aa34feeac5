/** Full evaluations of a ten-trial point: every trial, the budget, the coverage factor, the probability of conformity. */
import type * as Evaluate from '../../server/metrology/evaluate.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type * as Table from '../../server/metrology/tolerance-table.ts';
import { built } from './built.ts';
import { atLeast, median, timed } from './measure.ts';
import type { Measure } from './measure.ts';

const RECORDS = 500;
const EVALUATIONS = 25_000;
const ROUNDS = 7;

export async function evaluations(): Promise<Measure> {
  const { evaluate } = await built<typeof Evaluate>('server/metrology/evaluate.js');
  const { toleranceRows } = await built<typeof Table>('server/metrology/tolerance-table.js');
  const rows = toleranceRows.filter((row) => row.standard === 'ISO 1042');
  const records = Array.from({ length: RECORDS }, (_, index) => tenTrials(index));
  const round = () => {
    for (let count = 0; count < EVALUATIONS; count += 1) {
      const point = evaluate(records[count % RECORDS] ?? tenTrials(count), rows).points[0];
      if (point?.expandedUncertaintyMl == null || point.probabilityOfConformity == null)
        throw new Error('The evaluation is not full: no expanded uncertainty, or no probability of conformity.');
    }
  };
  round();
  const rates: number[] = [];
  for (let count = 0; count < ROUNDS; count += 1) rates.push(EVALUATIONS / (await timed(round)));
  return atLeast('core.evaluations-per-s', median(rates), '1/s', 50_000);
}

/** A 100 mL flask in measured air; masses, temperatures and pressure differ from record to record. */
function tenTrials(seed: number): CalibrationRecord {
  return {
    vessel: {
      kind: 'volumetric-flask',
      nominalVolumeMl: '100',
      basis: 'contain',
      tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
      material: 'borosilicate-3.3',
      referenceTemperatureC: '20',
    },
    points: ['100'],
    plannedTrials: 10,
    conditions: {
      airTemperatureC: '21.8',
      airPressureHpa: (985 + (seed % 30)).toFixed(1),
      relativeHumidityPercent: '48',
      waterGrade: 'grade-3',
      inspected: true,
    },
    trials: Array.from({ length: 10 }, (_, index) => ({
      pointMl: '100',
      emptyG: '61.2034',
      filledG: (160.85 + ((seed * 7 + index * 13) % 37) / 1000).toFixed(4),
      waterTemperatureC: (21 + ((seed + index) % 5) / 10).toFixed(1),
    })),
  };
}
