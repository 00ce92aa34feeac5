/** Solutions of the demonstration, invented like all of it, each made on its day with the ware as it was known then. */
import type { DemoTables } from './rows.ts';
import { post, type Ledger, type Send } from './send.ts';

type Id = (name: string) => string;

interface DemoSolution {
  key: string;
  on: string;
  /** Calibrations its story stands on; without them it is left out. */
  calibrations: readonly string[];
  body: (id: Id) => Record<string, unknown>;
}

const ROOM = { temperatureC: '21.0', temperatureHalfWidthC: '1' };
const WEIGHED = {
  adjustedToday: true,
  air: { airTemperatureC: '21.2', airPressureHpa: '976.0', relativeHumidityPercent: '42' },
};

const DEMO_SOLUTIONS: readonly DemoSolution[] = [
  {
    key: 'phthalate',
    on: '2026-02-02',
    calibrations: ['2026-01-VF-0250-02'],
    body: (id) => ({
      title: 'Potassium hydrogen phthalate 0.1 mol/L',
      ...{ expiresOn: '2026-08-02', water: 'deionised', lots: 'PH-0231' },
      solution: {
        way: 'solid',
        substance: {
          ...{ name: 'potassium hydrogen phthalate', formula: 'KHC8H4O4', primaryStandard: 'yes', lot: 'PH-0231' },
          ...{ purity: '0.9998', purityHalfWidth: '0.0004', purityCertified: true },
        },
        target: { value: '0.1', unit: 'mol/L' },
        madeUp: { by: 'volume', vesselId: id('VF-0250-02'), ...ROOM },
        weighing: { massG: '5.1062' },
        ...{ balanceId: id('AB-1'), ...WEIGHED, accuracyPercent: '0.2' },
      },
    }),
  },
  {
    key: 'phthalate-diluted',
    on: '2026-02-03',
    calibrations: ['2026-01-SP-0010-01', '2026-01-VF-0100-01'],
    body: (id) => ({
      title: 'Potassium hydrogen phthalate 0.01 mol/L',
      ...{ expiresOn: '2026-03-03', water: 'deionised', note: 'For the conductivity lesson.' },
      solution: {
        ...{ way: 'dilution', stock: { preparationId: id('solution phthalate') }, ...ROOM, accuracyPercent: '0.5' },
        steps: [{ deliveries: [{ vesselId: id('SP-0010-01') }], madeUpIn: { vesselId: id('VF-0100-01') } }],
      },
    }),
  },
  {
    key: 'hydroxide',
    on: '2026-02-04',
    calibrations: ['2026-01-SP-0025-01', '2026-01-BU-0050-02'],
    body: (id) => ({
      title: 'Sodium hydroxide about 0.1 mol/L, standardised',
      ...{ expiresOn: '2026-02-18', water: 'deionised', hazardLine: 'Corrosive: goggles and gloves.' },
      solution: {
        way: 'standardisation',
        titrant: { name: 'sodium hydroxide', formula: 'NaOH' },
        standard: { preparationId: id('solution phthalate') },
        titrations: [
          ['0.00', '24.85'],
          ['0.00', '24.90'],
          ['0.05', '24.90'],
          ['0.00', '24.80'],
        ].map(([buretteFromMl, buretteToMl]) => ({
          ...{ pipette: { vesselId: id('SP-0025-01') }, buretteFromMl, buretteToMl },
        })),
        ...{ buretteId: id('BU-0050-02'), endPointHalfWidthMl: '0.03', ...ROOM, accuracyPercent: '1' },
      },
    }),
  },
  {
    // Its flask was never calibrated before, and failed in the autumn.
    key: 'copper',
    on: '2026-06-08',
    calibrations: ['2026-09-VF-0050-01'],
    body: (id) => ({
      title: 'Copper(II) sulfate 0.05 mol/L',
      ...{ expiresOn: '2027-06-08', water: 'deionised', lots: 'CU-1177' },
      solution: {
        way: 'solid',
        substance: {
          ...{ name: 'copper(II) sulfate', formula: 'CuSO4·5H2O', primaryStandard: 'no', lot: 'CU-1177' },
          ...{ purity: '0.995', purityHalfWidth: '0.003', purityCertified: true },
        },
        target: { value: '0.05', unit: 'mol/L' },
        madeUp: { by: 'volume', vesselId: id('VF-0050-01'), ...ROOM },
        weighing: { massG: '0.6277' },
        ...{ balanceId: id('AB-1'), ...WEIGHED, accuracyPercent: '0.6' },
      },
    }),
  },
];

/** Those whose calibrations are loaded too. */
export const solutionsOf = ({ calibrations }: DemoTables): DemoSolution[] => {
  const loaded = new Set(calibrations.map((row) => row['calibration']));
  return DEMO_SOLUTIONS.filter((one) => one.calibrations.every((key) => loaded.has(key)));
};

export const makeSolution = async (send: Send, ids: Ledger, { key, on, body }: DemoSolution): Promise<void> => {
  const sent = { ...body((name) => ids.get(name)), madeOn: on };
  ids.set(`solution ${key}`, (await post(send, `solution:${key}`, '/api/preparations', sent)).id);
};
