/** A stored calibration with its result, as the wire shows it. */
import type { StoredVessel } from '../glassware/store.ts';
import type { StoredInstrument } from '../instruments/store.ts';
import { capability } from '../metrology/capability.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { explainPoint } from '../metrology/explain-point.ts';
import { explainSimpleVolume, explainTrial } from '../metrology/explain.ts';
import { oneMore } from '../metrology/one-more.ts';
import type { CalibrationRecord } from '../metrology/record.ts';
import type { CalibrationResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import type { Calibration, CapabilityOnWire, PlanBefore } from './contract.ts';
import type { PooledCalibration } from './store-pool.ts';
import { INSTRUMENT_ROLES, type StoredCalibration } from './store.ts';

/** The result in the shape of its contract: lists that may be absent in the computation are lists here. */
export const resultOnWire = (result: CalibrationResult) => ({
  ...result,
  trials: result.trials.map((trial) => ({
    ...trial,
    corrections: [...(trial.corrections ?? [])],
    exclusion: trial.exclusion ?? null,
  })),
});

export const instrumentIds = (stored: StoredCalibration): Calibration['instruments'] => {
  const ids: Record<string, string> = {};
  for (const role of INSTRUMENT_ROLES) {
    const choice = stored.instruments[role];
    if (choice) ids[`${role}Id`] = choice.id;
  }
  return ids;
};

const planBefore = (facts: object | null): PlanBefore | null => {
  const changed = facts as { before?: Omit<PlanBefore, 'verdict'>; verdictBefore?: string | null } | null;
  return changed?.before === undefined ? null : { ...changed.before, verdict: changed.verdictBefore ?? null };
};

/** A candidate balance knows its tag on the wire. */
export const capabilityOnWire = (
  record: CalibrationRecord,
  balances: readonly StoredInstrument[],
): CapabilityOnWire => {
  const tags = new Map(balances.map((balance) => [balance.id, balance.facts.tag]));
  const candidates = balances.map(({ id, facts }) => ({ id, facts }));
  const found = capability(record, toleranceRows, candidates);
  return {
    ...found,
    points: found.points.map((point) => ({
      ...point,
      balances: point.balances.map((balance) => ({ ...balance, tag: tags.get(balance.id) ?? balance.id })),
    })),
  };
};

const explained = (record: CalibrationRecord, result: CalibrationResult): Calibration['explain'] => ({
  points: result.points.map((point) => ({
    pointMl: point.pointMl,
    ...explainPoint(record, point, result.trials),
  })),
  trials: result.trials.map((trial) => ({
    number: trial.number,
    volume: explainTrial(record, trial),
    simpleVolume: explainSimpleVolume(record, trial),
  })),
});

/** What a calibration shows of its vessel. */
export const vesselOfCalibration = (vessel: StoredVessel): Calibration['vessel'] => ({
  id: vessel.id,
  tag: vessel.tag,
  kind: vessel.kind,
  nominalVolumeMl: vessel.nominalVolumeMl,
  basis: vessel.basis,
  referenceTemperatureC: vessel.referenceTemperatureC,
  material: vessel.material,
  expansionPerK: vessel.expansionPerK ?? null,
  divisionMl: vessel.divisionMl ?? null,
  neckDiameterMm: vessel.neckDiameterMm ?? null,
  waitingTimeS: vessel.waitingTimeS ?? null,
  channels: vessel.channels,
  blowOut: vessel.blowOut,
  tolerance: (vessel.tolerance ?? null) as Calibration['vessel']['tolerance'],
  inUse: vessel.inUse,
});

export interface ShownBeside {
  /** Balances in use, to say which would do. */
  balances: readonly StoredInstrument[];
  explain: boolean;
  /** Signatures and certificates, and what no longer fits them. */
  paper: Pick<Calibration, 'signatures' | 'certificates' | 'findings'>;
}

export const calibrationOnWire = (stored: PooledCalibration, beside: ShownBeside): Calibration => {
  const { record, vessel } = stored;
  const result = stored.frozen ?? evaluate(record, toleranceRows);
  const open = stored.state === 'open';
  return {
    ...resultOnWire(result),
    findings: [...result.findings, ...beside.paper.findings],
    signatures: beside.paper.signatures,
    certificates: beside.paper.certificates,
    capability: open ? capabilityOnWire(record, beside.balances) : null,
    oneMore: result.points.map((point) => (open ? oneMore(point, record.decisionRule, record.plannedTrials) : null)),
    pool: stored.pool,
    ...(beside.explain ? { explain: explained(record, result) } : {}),
    id: stored.id,
    version: stored.version,
    state: stored.state,
    vessel: vesselOfCalibration(vessel),
    plannedPoints: record.points,
    plannedTrials: record.plannedTrials,
    performedOn: record.performedOn,
    repeatability: record.repeatability as Calibration['repeatability'],
    conditions: record.conditions as Calibration['conditions'],
    conditionReadings: record.conditionReadings as Calibration['conditionReadings'],
    instruments: instrumentIds(stored),
    instrumentFacts: record.instruments as Calibration['instrumentFacts'],
    laboratory: { altitudeM: record.laboratory?.altitudeM ?? null },
    note: stored.note,
    origin: record.origin ?? null,
    recordedAt: stored.recordedAt,
    recordedBy: stored.recordedBy,
    acts: stored.acts.map(({ act, at, by, reason, facts }) => ({ act, at, by, reason, before: planBefore(facts) })),
  };
};
