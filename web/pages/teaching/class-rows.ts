/** What a class weighed, as the computation takes it. */
import type { ClassData } from '../../../server/experiments/contract-class.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import type { ClassRow } from '../../../server/metrology/class/data.ts';
import type { TrialUnfolding } from '../../../server/metrology/class/explain-class.ts';
import { rowFigures, type RowFigures } from '../../../server/metrology/class/figures.ts';
import { chosenVolumeMl, weighedRows, type VolumeChoice } from '../../../server/metrology/class/weighed.ts';
import { leaf } from '../../../server/metrology/explain.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { numbersText } from '../../messages/en-numbers.ts';

/** In which unit bias and spreads are shown. */
export type Scale = 'mL' | 'percent';
type Trial = ClassData['trials'][number];

const trialsIn = (data: ClassData, row: string, group: number): Trial[] =>
  data.trials.filter((trial) => trial.row === row && trial.group === group && trial.excluded === null);

export interface ShownRow {
  ware: WareRowOnWire;
  row: ClassRow;
  figures: RowFigures;
  excludedMl: number[];
  unfold: TrialUnfolding;
}

/** Each row with its figures; what was left out is shown and does not count. */
export const shownRows = (data: ClassData, table: readonly ToleranceRow[], choice: VolumeChoice): ShownRow[] =>
  weighedRows(data, choice, table).flatMap((row): ShownRow[] => {
    const ware = data.rows.find(({ key }) => key === row.key);
    if (!ware) return [];
    const excluded = data.trials.filter((trial) => trial.row === row.key && trial.excluded !== null);
    return [
      {
        ware,
        row,
        figures: rowFigures(row),
        excludedMl: excluded.map((trial) => chosenVolumeMl(trial, choice)),
        unfold: (group, index) => unfolded(trialsIn(data, row.key, Number(group))[index], group, choice),
      },
    ];
  });

/** A trial down to its typed readings. */
function unfolded(trial: Trial | undefined, group: string, choice: VolumeChoice): ReturnType<TrialUnfolding> {
  if (!trial) return null;
  const { emptyG, filledG, massG, balanceCorrectionG, usedWaterTemperatureC } = trial;
  const isCorrected = balanceCorrectionG !== 0;
  const mass = {
    symbol: 'm',
    label: numbersText.mass,
    formula: isCorrected ? 'filled − empty + c' : 'filled − empty',
    value: massG,
    unit: 'g',
    parts: [
      leaf('filled', numbersText.filled, Number(filledG), 'g', { typed: filledG }),
      leaf('empty', numbersText.empty, Number(emptyG), 'g', { typed: emptyG }),
      ...(isCorrected
        ? [
            leaf('c', numbersText.correction, balanceCorrectionG, 'g', {
              source: 'common-practice',
              locator: numbersText.correctionWhy,
            }),
          ]
        : []),
    ],
  };
  const volumeMl = chosenVolumeMl(trial, choice);
  const factor =
    choice === 'simple'
      ? leaf('Z', numbersText.simpleFactor, 1, 'mL/g', { source: 'common-practice', locator: numbersText.simpleWhy })
      : leaf('Z', numbersText.fullFactor(usedWaterTemperatureC), volumeMl / massG, 'mL/g', {
          source: 'iso-4787-2021',
          locator: numbersText.fullWhy,
        });
  return {
    symbol: 'V',
    label: numbersText.trialOf(trial.number, group),
    formula: 'm·Z',
    value: volumeMl,
    unit: 'mL',
    parts: [mass, factor],
  };
}
