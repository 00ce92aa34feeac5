/** Ten trials of a 100 mL flask in measured air; masses, temperatures and pressure differ from seed to seed. Invented. */
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type * as Table from '../../server/metrology/tolerance-table.ts';
import type { ToleranceRow } from '../../server/metrology/tolerance.ts';
import { built } from './built.ts';

/** Rows of the flask's standard. */
export async function flaskRows(): Promise<readonly ToleranceRow[]> {
  const { toleranceRows } = await built<typeof Table>('server/metrology/tolerance-table.js');
  return toleranceRows.filter((row) => row.standard === 'ISO 1042');
}

export function tenTrials(seed: number): CalibrationRecord {
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
