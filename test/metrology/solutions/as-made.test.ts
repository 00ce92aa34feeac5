import { expect, it } from 'vitest';
import { percentWords, stepsAsMade, titrationsAsMade } from '../../../server/metrology/solutions/as-made.ts';
import { deliveredBetween } from '../../../server/metrology/solutions/burette.ts';
import { Influences } from '../../../server/metrology/solutions/influences.ts';
import { takeVolume } from '../../../server/metrology/solutions/vessel-in-use.ts';
import { vessel } from './make.ts';

const used = (vesselId: string, use: string, nominalMl: number) => ({ vesselId, use, nominalMl });

it('finds for each step the vessel at the mark it was used at, also where one does two jobs', () => {
  const vessels = [used('g', 'delivered', 5), used('g', 'delivered', 2.5), used('f', 'made-up', 100)];
  const steps = [
    { deliveries: [{ vesselId: 'g', pointMl: '2.50' }], madeUpIn: { vesselId: 'f' } },
    { deliveries: [{ vesselId: 'g', pointMl: '5' }, { vesselId: 'g' }], madeUpIn: { vesselId: 'gone' } },
  ];
  expect(stepsAsMade({ steps }, vessels)).toEqual([
    { deliveries: [vessels[1]], madeUpIn: vessels[2] },
    { deliveries: [vessels[0], vessels[0]], madeUpIn: null },
  ]);
});

it('shows a titration with the digits of its readings', () => {
  const titrations = [{ massG: '0.3888', buretteFromMl: '0.10', buretteToMl: '18.7' }];
  expect(titrationsAsMade({ titrations }, { vessels: [], singles: [0.1] })).toEqual([
    { ...titrations[0], pipette: null, usedMl: '18.60', single: 0.1 },
  ]);
  expect(['0.9995', '1', '0.05'].map(percentWords)).toEqual(['99.95', '100', '5']);
});

it('tells the marks of one burette apart by the readings another person took', () => {
  const influences = new Influences();
  const { measured: _, nominalMl: __, ...burette } = vessel('B', 25, { otherPersonMl: 0.01 });
  for (const [use, from, to] of [
    ['one', 0, 10],
    ['two', 10, 20],
  ] as const)
    takeVolume(influences, deliveredBetween({ ...burette, points: [] }, from, to), use, () => 20);
  const eyes = influences.list.map(({ label }) => label).filter((label) => label.includes('another person'));
  expect(eyes).toEqual([
    'marks of B from 0 to 10 mL set by another person',
    'marks of B from 10 to 20 mL set by another person',
  ]);
});
