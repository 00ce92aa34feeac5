/** What the computation knows of a row of an experiment, and each trial's volume three ways. Pure. */
import { numberOf, numberOrNull } from '../metrology/decimal.ts';
import { readingMark } from '../metrology/reading-mark.ts';
import type { BalanceFacts, CalibrationRecord, TrialFacts, VesselFacts } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, rowOf, toleranceMlAt, toleranceSource, type ToleranceRow } from '../metrology/tolerance.ts';
import { evaluateTrial } from '../metrology/trial.ts';
import { findingsForReadings } from './reading-digits.ts';
import type { ExperimentPlan, ReadingRule, WareRow, WareRowOnWire } from './contract.ts';

/** Taken as this where nobody typed a half-width, in °C: one temperature for a whole room. */
export const ASSUMED_HALF_WIDTH_C = '1';
/** One digit beyond the scale is estimated: a tenth of the division; common practice, no source. */
const ESTIMATED_SHARE = 0.1;

const vesselOf = (row: WareRow): VesselFacts => ({
  kind: row.kind,
  nominalVolumeMl: row.nominalVolumeMl,
  basis: row.basis,
  tolerance: row.tolerance ?? null,
  material: row.material,
  expansionPerK: row.expansionPerK ?? null,
  referenceTemperatureC: row.referenceTemperatureC,
  divisionMl: row.divisionMl ?? null,
  neckDiameterMm: row.neckDiameterMm ?? null,
});

/** A row with everything that its trials share, looked up once. */
export interface Ware {
  row: WareRow;
  record: CalibrationRecord;
  tolerance: ToleranceRow | null;
  /** Assumed where a trial names no water temperature, °C; null where nobody said one. */
  assumedWaterC: string | null;
  resolutionsG: readonly string[];
  /** Vessels of the register that the row names. */
  vessels: readonly { id: string; tag: string }[];
}

/** What the register says of a plan. */
export interface Register {
  /** Of the one balance that every reading is from; null for none, and for several. */
  balance: BalanceFacts | null;
  /** Tags of vessels by id. */
  tags: ReadonlyMap<string, string>;
}
const NO_REGISTER: Register = { balance: null, tags: new Map() };

type RoomFacts = Pick<ExperimentPlan, 'conditions' | 'balances'>;

/** @param altitudeM of the laboratory; gives the usual pressure where none was typed */
export const wareOf = (
  plan: RoomFacts,
  row: WareRow,
  altitudeM: string | null,
  { balance, tags }: Register = NO_REGISTER,
): Ware => {
  const { waterTemperatureC, ...air } = plan.conditions;
  const vessel = vesselOf(row);
  return {
    row,
    record: { vessel, conditions: air, laboratory: { altitudeM }, instruments: balance && { balance }, trials: [] },
    tolerance: rowOf(findTolerance(toleranceRows, vessel)),
    assumedWaterC: row.waterTemperatureC ?? waterTemperatureC ?? null,
    resolutionsG: plan.balances.flatMap(({ resolutionG }) => resolutionG ?? []),
    vessels: (row.vesselIds ?? []).map((id) => ({ id, tag: tags.get(id) ?? id })),
  };
};

export const wares = (
  plan: RoomFacts & Pick<ExperimentPlan, 'rows'>,
  altitudeM: string | null,
  register: Register,
): ReadonlyMap<string, Ware> => new Map(plan.rows.map((row) => [row.key, wareOf(plan, row, altitudeM, register)]));

const readingRuleOf = (ware: Ware): ReadingRule => {
  const mark = readingMark(ware.record.vessel, ware.row.basis, ware.tolerance, toleranceRows);
  const divisionMl = mark.style === 'scale' || mark.style === 'broad' ? mark.divisionMl : null;
  return {
    mark: mark.style,
    divisionMl,
    estimatedToMl: divisionMl === null || mark.style === 'broad' ? null : divisionMl * ESTIMATED_SHARE,
  };
};

/** Limit of the vessel in mL at its nominal volume; null where there is none. */
export const wareToleranceMl = ({ record, tolerance }: Ware): number | null =>
  toleranceMlAt(record.vessel, tolerance, numberOf(record.vessel.nominalVolumeMl));

export const rowOnWire = (ware: Ware): WareRowOnWire => ({
  ...ware.row,
  vessels: [...ware.vessels],
  toleranceMl: wareToleranceMl(ware),
  toleranceSource: toleranceSource(findTolerance(toleranceRows, ware.record.vessel)),
  readingRule: readingRuleOf(ware),
});

/** Readings that count: as typed, or as the last correction has them. */
export interface ClassReadings {
  emptyG: string;
  filledG: string;
  /** Null: assumed for all. */
  waterTemperatureC: string | null;
}

/** @throws TypeError where no water temperature is known; the routes ask for one before that */
export const trialFacts = ({ row, assumedWaterC }: Ware, readings: ClassReadings): TrialFacts => {
  const waterTemperatureC = readings.waterTemperatureC ?? assumedWaterC;
  if (waterTemperatureC === null) throw new TypeError('The temperature of the water is not known.');
  return {
    pointMl: row.nominalVolumeMl,
    emptyG: readings.emptyG,
    filledG: readings.filledG,
    waterTemperatureC,
    ...(readings.waterTemperatureC === null ? { waterTemperatureHalfWidthC: ASSUMED_HALF_WIDTH_C } : {}),
  };
};

/** The last digits of a small difference of large readings are noise. */
const toNanogram = (massG: number): number => Number(massG.toFixed(9));

export interface ThreeVolumes {
  massG: number;
  /** What the balance's certificate adds to filled − empty; 0 where it says nothing. */
  balanceCorrectionG: number;
  waterTemperatureC: number;
  waterAssumed: boolean;
  /** Mass ÷ 1 g/mL. */
  simpleVolumeMl: number;
  /** Mass ÷ density of the water at its temperature; neither buoyancy nor expansion of the glass. */
  densityVolumeMl: number;
  /** At the reference temperature, corrected for density, buoyancy and expansion. */
  volumeMl: number;
  findings: { code: string; detail: string }[];
}

/**
 * The volume of one trial three ways, in mL.
 * @source iso-4787-2021, equation for the volume at the reference temperature; the density alone is m ÷ ρw
 * @throws OutsideValidity outside the ranges of the water and air formulas
 */
export const threeVolumes = (ware: Ware, readings: ClassReadings): ThreeVolumes => {
  const facts = trialFacts(ware, readings);
  const result = evaluateTrial(ware.record, facts, 1, ware.tolerance);
  const { emptyG, filledG } = result.corrected;
  return {
    massG: result.massG,
    balanceCorrectionG: toNanogram(filledG - numberOf(readings.filledG) - (emptyG - numberOf(readings.emptyG))),
    waterTemperatureC: numberOf(facts.waterTemperatureC),
    waterAssumed: numberOrNull(facts.waterTemperatureHalfWidthC) !== null,
    simpleVolumeMl: result.simpleVolumeMl,
    densityVolumeMl: result.massG / result.waterDensityGPerMl,
    volumeMl: result.volumeMl,
    findings: [...result.findings, ...findingsForReadings(ware.resolutionsG, readings)],
  };
};
