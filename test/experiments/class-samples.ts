/** Classes made from numbers, for papers set without a server. All invented but for the numbers a test brings. */
import type { ClassData } from '../../server/experiments/contract-class.ts';
import type { ClassPaperInput } from '../../server/experiments/papers/class-paper.ts';

type Trial = ClassData['trials'][number];

export const ROW: ClassData['rows'][number] = {
  key: 'flask',
  label: 'Flask on the bench',
  kind: 'other',
  nominalVolumeMl: '200',
  basis: 'contain',
  material: 'glass',
  referenceTemperatureC: '20',
  trialsPerGroup: 5,
  vessels: [],
  toleranceMl: null,
  toleranceSource: null,
  readingRule: { mark: 'ring', divisionMl: null, estimatedToMl: null },
};

const groupOf = (number: number): ClassData['groups'][number] => ({
  ...{ id: `g${number}`, number, name: null, hidden: false, madeBy: 'staff' },
});

export const trialOf = (group: number, number: number, volumeMl: number, facts: Partial<Trial> = {}): Trial => ({
  ...{ groupId: `g${group}`, group, row: 'flask', number, emptyG: '100.0000', filledG: '300.0000' },
  ...{ waterTemperatureC: '20.0', usedWaterTemperatureC: 20, vesselId: null, massG: 200, balanceCorrectionG: 0 },
  ...{ simpleVolumeMl: volumeMl, densityVolumeMl: volumeMl, volumeMl, entered: 'staff', findings: [] },
  ...{ corrections: [], excluded: null, recordedAt: '2026-09-14T08:30:00.000Z' },
  ...facts,
});

/** @param groups volumes of each group, mL */
export const classOf = (groups: readonly (readonly number[])[], facts: Partial<ClassData> = {}): ClassPaperInput => ({
  ...{ laboratoryName: 'Room 3', demonstration: false, madeAt: '2026-09-14T08:30:00.000Z', program: '0.2.0' },
  data: {
    ...{
      id: 'e1',
      change: 1,
      state: 'closed',
      madeUp: false,
      template: 'own',
      title: 'A class',
      question: 'How much?',
    },
    ...{ design: 'by-row', conditions: {}, balances: [{ label: 'Balance 1', corrects: false }] },
    ...{ openedAt: '2026-09-14T08:00:00.000Z', closedAt: '2026-09-14T09:00:00.000Z' },
    rows: [ROW],
    groups: groups.map((_, at) => groupOf(at + 1)),
    predictions: [],
    trials: groups.flatMap((volumes, at) => volumes.map((volumeMl, place) => trialOf(at + 1, place + 1, volumeMl))),
    ...facts,
  },
  plan: {
    ...{ asks: { prediction: true, within: true, sureness: true }, balances: [{ label: 'Balance 1' }] },
    ...{ cautionNote: null, expectedGroups: groups.length },
  },
});
