import type { Air } from './air-facts.ts';
import { conditionStages } from './conditions.ts';
import type { ConditionStage } from './conditions.ts';
import { correctionTable } from './corrections.ts';
import type { CorrectionTable } from './corrections.ts';
import { numberOf, numberOrNull } from './decimal.ts';
import { expansionPerK, MATERIAL_FACTS } from './materials.ts';
import type { ExpansionCoefficient } from './materials.ts';
import type { Basis, CalibrationRecord, ConditionFacts, InstrumentFacts } from './record.ts';
import type { ToleranceRow } from './tolerance.ts';

/** What all trials of a calibration share, parsed once. */
export interface Setup {
  record: CalibrationRecord;
  /** Row of the named standard, where one fits. */
  row: ToleranceRow | null;
  instruments: InstrumentFacts;
  basis: Basis;
  expansion: ExpansionCoefficient;
  referenceC: number;
  altitudeM: number | null;
  capacityG: number | null;
  /** Water and air may differ by less in plastic ware and piston pipettes. */
  sensitiveToWarmth: boolean;
  stages: readonly ConditionStage[];
  tables: Record<'balance' | 'thermometer' | 'airThermometer' | 'barometer' | 'hygrometer', CorrectionTable | null>;
  /** Air already worked out for conditions that several trials share. */
  airOf: Map<ConditionFacts, Air>;
}

export function prepareSetup(record: CalibrationRecord, row: ToleranceRow | null): Setup {
  const { vessel } = record;
  const instruments = record.instruments ?? {};
  return {
    record,
    row,
    instruments,
    basis: record.basis ?? vessel.basis,
    expansion: expansionPerK(vessel),
    referenceC: numberOf(vessel.referenceTemperatureC),
    altitudeM: numberOrNull(record.laboratory?.altitudeM),
    capacityG: numberOrNull(instruments.balance?.capacityG),
    sensitiveToWarmth: MATERIAL_FACTS[vessel.material].plastic || vessel.kind === 'piston-pipette',
    stages: conditionStages(record),
    tables: {
      balance: correctionTable(instruments.balance?.corrections),
      thermometer: correctionTable(instruments.thermometer?.corrections),
      airThermometer: correctionTable(instruments.airThermometer?.corrections),
      barometer: correctionTable(instruments.barometer?.corrections),
      hygrometer: correctionTable(instruments.hygrometer?.corrections),
    },
    airOf: new Map(),
  };
}
