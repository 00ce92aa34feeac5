/** What an issue freezes, gathered from the record as it stands. */
import type { PooledCalibration } from '../calibrations/store-pool.ts';
import { INSTRUMENT_ROLES } from '../calibrations/store.ts';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { findInstrumentRevisions } from '../instruments/store.ts';
import { isDemonstration, readLaboratory } from '../laboratory/store.ts';
import { evaluate } from '../metrology/evaluate.ts';
import type { CalibrationRecord } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { listConfirmations } from '../tolerances/store.ts';
import { toleranceBasis } from '../tolerances/view-basis.ts';
import { VERSION } from '../version.ts';
import {
  ISSUED_FORMAT,
  type Issued,
  type IssuedAct,
  type IssuedInstrument,
  type IssuedVessel,
  type Signature,
} from './issued.ts';

export interface Issuing {
  number: string;
  replaces: Issued['replaces'];
  at: string;
  actor: string;
  dueOn: string | null;
}

/** People whose readings or decisions stand in the record. */
const workersOn = (stored: PooledCalibration): Set<string> =>
  new Set([
    stored.recordedBy,
    ...stored.record.trials.map((trial) => trial.recordedBy ?? ''),
    ...stored.acts.filter((act) => act.act === 'calibration-measured').map((act) => act.by),
  ]);

export const isOwnWork = (stored: PooledCalibration, name: string): boolean => workersOn(stored).has(name);

/** Signatures that still stand: those given before the record was opened again have lapsed. */
export const standingSignatures = (stored: PooledCalibration): Signature[] => {
  const opened = stored.acts.findLastIndex((act) => act.state === 'open' && act.act !== 'plan-changed');
  const signatures: Signature[] = [];
  for (const act of stored.acts.slice(opened + 1)) {
    const meaning = MEANINGS[act.act];
    if (meaning) signatures.push({ meaning, name: act.by, at: act.at, ownWork: isOwnWork(stored, act.by) });
  }
  return signatures;
};

const MEANINGS: Partial<Record<string, Signature['meaning']>> = {
  'calibration-measured': 'measured',
  'calibration-checked': 'checked',
  'calibration-issued': 'issued',
};

const instrumentsOf = async (db: Reading, stored: PooledCalibration): Promise<IssuedInstrument[]> => {
  const revisions = await findInstrumentRevisions(db, Object.values(stored.instruments));
  return INSTRUMENT_ROLES.flatMap((role): IssuedInstrument[] => {
    const choice = stored.instruments[role];
    const found = revisions.find(({ id, version }) => id === choice?.id && version === choice.version);
    if (!choice || !found) return [];
    const { tag, model, serial, certificateNumber, certificateOn, dueOn } = found.facts;
    return [
      {
        role,
        ...choice,
        tag,
        model: model ?? null,
        serial: serial ?? null,
        certificateNumber: certificateNumber ?? null,
        certificateOn: certificateOn ?? null,
        dueOn: dueOn ?? null,
      },
    ];
  });
};

interface ChangedPlan {
  before?: Omit<NonNullable<IssuedAct['before']>, 'verdict'>;
  verdictBefore?: string;
}

/** Acts the paper has to tell; signatures stand on their own. */
const actsOf = (stored: PooledCalibration): IssuedAct[] =>
  stored.acts
    .filter((act) => !(act.act in MEANINGS) || act.reason !== null)
    .map(({ act, at, by, reason, facts }) => {
      const changed = facts as ChangedPlan | null;
      const before = changed?.before ? { ...changed.before, verdict: changed.verdictBefore ?? null } : null;
      return { act, at, by, reason, before };
    });

/** The facts of the vessel that compute, without the register's own columns. */
const computingFacts = (record: CalibrationRecord): CalibrationRecord['vessel'] => {
  const { vessel } = record;
  return {
    kind: vessel.kind,
    nominalVolumeMl: vessel.nominalVolumeMl,
    basis: vessel.basis,
    tolerance: vessel.tolerance ?? null,
    material: vessel.material,
    expansionPerK: vessel.expansionPerK ?? null,
    referenceTemperatureC: vessel.referenceTemperatureC,
    divisionMl: vessel.divisionMl ?? null,
    marks: vessel.marks ?? null,
    neckDiameterMm: vessel.neckDiameterMm ?? null,
    expectedSpreadMl: vessel.expectedSpreadMl ?? null,
    waitingTimeS: vessel.waitingTimeS ?? null,
  };
};

/** The record as it is frozen and signed. */
export const recordToFreeze = (stored: PooledCalibration): CalibrationRecord => ({
  ...stored.record,
  vessel: computingFacts(stored.record),
});

const identityOf = ({ vessel }: PooledCalibration): IssuedVessel => ({
  id: vessel.id,
  version: vessel.version,
  tag: vessel.tag,
  serial: vessel.serial,
  maker: vessel.maker,
  location: vessel.location,
  acquiredOn: vessel.acquiredOn,
  note: vessel.note,
});

const lastDay = (stored: PooledCalibration): string =>
  localDay(new Date(stored.record.trials.at(-1)?.recordedAt ?? stored.recordedAt));

export const freeze = async (db: Reading, stored: PooledCalibration, issuing: Issuing): Promise<Issued> => {
  const laboratory = await readLaboratory(db);
  const record = recordToFreeze(stored);
  const result = evaluate(record, toleranceRows);
  const tolerance = toleranceBasis(record, await listConfirmations(db));
  return {
    format: ISSUED_FORMAT,
    program: VERSION,
    number: issuing.number,
    replaces: issuing.replaces,
    issuedAt: issuing.at,
    issuedOn: localDay(new Date(issuing.at)),
    laboratory: { name: laboratory.name, address: laboratory.address, countryCode: laboratory.countryCode },
    demonstration: await isDemonstration(db),
    calibrationId: stored.id,
    begunOn: stored.record.performedOn,
    // Entered after the day it was done: the day itself is all that is known.
    endedOn:
      localDay(new Date(stored.recordedAt)) === stored.record.performedOn ? lastDay(stored) : stored.record.performedOn,
    vessel: identityOf(stored),
    instruments: await instrumentsOf(db, stored),
    record,
    pool: stored.pool,
    note: stored.note,
    acts: actsOf(stored),
    signatures: [
      ...standingSignatures(stored),
      { meaning: 'issued', name: issuing.actor, at: issuing.at, ownWork: isOwnWork(stored, issuing.actor) },
    ],
    toleranceName: tolerance.name,
    toleranceBasis: tolerance.basis,
    dueOn: issuing.dueOn,
    result,
    versions: result.versions,
  };
};
