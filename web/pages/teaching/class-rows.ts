/** What a class weighed, as the computation takes it. */
import type { ClassData } from '../../../server/experiments/contract-class.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import { crossed, type Crossed, type CrossedCell, type NotCrossed } from '../../../server/metrology/class/crossed.ts';
import type { ClassLimit, ClassRow } from '../../../server/metrology/class/data.ts';
import type { TrialUnfolding } from '../../../server/metrology/class/explain-class.ts';
import { rowFigures, type RowFigures } from '../../../server/metrology/class/figures.ts';
import { limitsOf } from '../../../server/metrology/class/limits.ts';
import { leaf } from '../../../server/metrology/explain.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { numbersText } from '../../messages/en-numbers.ts';

export type VolumeKind = 'corrected' | 'simple';
/** In which unit bias and spreads are shown. */
export type Scale = 'mL' | 'percent';
type Trial = ClassData['trials'][number];

const volumeOf = (trial: Trial, kind: VolumeKind): number =>
  kind === 'simple' ? trial.simpleVolumeMl : trial.volumeMl;

const trialsIn = (data: ClassData, row: string, group: number): Trial[] =>
  data.trials.filter((trial) => trial.row === row && trial.group === group && trial.excluded === null);

function limitsIn(row: WareRowOnWire, table: readonly ToleranceRow[]): ClassLimit[] {
  const known = limitsOf(table, {
    kind: row.kind,
    nominalMl: Number(row.nominalVolumeMl),
    basis: row.basis,
    divisionMl: row.divisionMl === undefined ? null : Number(row.divisionMl),
    tolerance: row.tolerance ?? null,
  });
  if (known.length > 0 || row.toleranceMl === null) return known;
  return [{ name: 'stated', source: row.toleranceSource ?? '', toleranceMl: row.toleranceMl }];
}

export interface ShownRow {
  ware: WareRowOnWire;
  row: ClassRow;
  figures: RowFigures;
  excludedMl: number[];
  unfold: TrialUnfolding;
}

/** Each row with its figures; what was left out is shown and does not count. */
export const shownRows = (data: ClassData, table: readonly ToleranceRow[], kind: VolumeKind): ShownRow[] =>
  data.rows.map((ware) => {
    const groups = data.groups.map(({ number }) => ({
      key: String(number),
      trialsMl: trialsIn(data, ware.key, number).map((trial) => volumeOf(trial, kind)),
    }));
    const row: ClassRow = {
      key: ware.key,
      kind: ware.kind,
      nominalMl: Number(ware.nominalVolumeMl),
      basis: ware.basis,
      toleranceMl: null,
      limits: limitsIn(ware, table),
      groups: groups.filter(({ trialsMl }) => trialsMl.length > 0),
    };
    const excluded = data.trials.filter((trial) => trial.row === ware.key && trial.excluded !== null);
    return {
      ware,
      row,
      figures: rowFigures(row),
      excludedMl: excluded.map((trial) => volumeOf(trial, kind)),
      unfold: (group, index) => unfolded(trialsIn(data, ware.key, Number(group))[index], group, kind),
    };
  });

/** A trial down to its typed readings. */
function unfolded(trial: Trial | undefined, group: string, kind: VolumeKind): ReturnType<TrialUnfolding> {
  if (!trial) return null;
  const { emptyG, filledG, massG, usedWaterTemperatureC } = trial;
  const mass = {
    symbol: 'm',
    label: numbersText.mass,
    formula: 'filled − empty',
    value: massG,
    unit: 'g',
    parts: [
      leaf('filled', numbersText.filled, Number(filledG), 'g', { typed: filledG }),
      leaf('empty', numbersText.empty, Number(emptyG), 'g', { typed: emptyG }),
    ],
  };
  const volumeMl = volumeOf(trial, kind);
  const factor =
    kind === 'simple'
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

/** Hands against vessels, where every group weighed every row. */
export const crossedOf = (rows: readonly ShownRow[]): Crossed | NotCrossed =>
  crossed(
    rows.flatMap(({ row }): CrossedCell[] =>
      row.groups.map(({ key, trialsMl }) => ({ hand: key, vessel: row.key, trialsMl })),
    ),
  );
