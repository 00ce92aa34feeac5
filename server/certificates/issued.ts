/**
 * What an issue freezes: everything a certificate says, and all that `evaluate` needs to say it again. Page, PDF and XML
 * of a certificate are made from this alone and from the journal entry that holds its hash.
 */
import type { CalibrationRecord } from '../metrology/record.ts';
import type { CalibrationResult, VersionIds } from '../metrology/result.ts';

/** Changes whenever this shape does: the first had no country. */
export const ISSUED_FORMAT = 'tarebook-issued-2';

/** Why a tolerance may judge on paper, or why it may not. */
export type ToleranceBasis =
  | { kind: 'marked' }
  | { kind: 'read-in-standard' }
  /** A keeper saw the value in the standard. */
  | { kind: 'confirmed'; whereSeen: string; by: string; at: string }
  /** A row nobody here has seen in the standard: mean and U are printed, no verdict. */
  | { kind: 'not-checked' }
  /** The vessel states no tolerance, or it was calibrated on another basis than marked. */
  | { kind: 'none' };

export type SignatureMeaning = 'measured' | 'checked' | 'issued';

/** A person's name under the record at that moment. */
export interface Signature {
  meaning: SignatureMeaning;
  name: string;
  at: string;
  /** The same person recorded trials of this calibration. */
  ownWork: boolean;
}

export interface IssuedVessel {
  id: string;
  version: number;
  tag: string;
  serial: string | null;
  maker: string | null;
  location: string | null;
  acquiredOn: string | null;
  note: string | null;
}

export type IssuedInstrumentRole = 'balance' | 'thermometer' | 'barometer' | 'hygrometer' | 'airThermometer';

export interface IssuedInstrument {
  role: IssuedInstrumentRole;
  id: string;
  version: number;
  tag: string;
  model: string | null;
  serial: string | null;
  /** Null: traceability is not established. */
  certificateNumber: string | null;
  certificateOn: string | null;
  dueOn: string | null;
}

/** An act on the calibration that the paper has to tell: plan changed, reopened, ended early, reason of an amendment. */
export interface IssuedAct {
  act: string;
  at: string;
  by: string;
  reason: string | null;
  before: {
    plannedTrials: number;
    decisionRule: string;
    coverageProbability: string;
    verdict: string | null;
  } | null;
}

export interface Issued {
  format: 'tarebook-issued-1' | typeof ISSUED_FORMAT;
  /** Version of the program that issued. */
  program: string;
  number: string;
  replaces: { number: string; reason: string } | null;
  issuedAt: string;
  /** Calendar day of the laboratory. */
  issuedOn: string;
  /** The country as ISO 3166-1 alpha-2. */
  laboratory: { name: string | null; address: string | null; countryCode?: string | null };
  /** The logbook holds invented data; said on every page. */
  demonstration: boolean;
  calibrationId: string;
  /** Day of the first calibration act, and of the last trial, in the laboratory's zone. */
  begunOn: string;
  endedOn: string;
  vessel: IssuedVessel;
  instruments: IssuedInstrument[];
  /** What `evaluate` takes; the vessel's facts, the plan, rule, conditions, readings, corrections and exclusions in it. */
  record: CalibrationRecord;
  /** Ids of the calibrations a pooled spread came from, with the spread. */
  pool: { sdMl: number; degreesOfFreedom: number; from: string[] } | null;
  note: string | null;
  acts: IssuedAct[];
  signatures: Signature[];
  /** Name of the tolerance as printed, `ISO 1042:1998 class A`; null without one. */
  toleranceName: string | null;
  toleranceBasis: ToleranceBasis;
  /** Day after which the vessel is due again; null unless it was asked for. */
  dueOn: string | null;
  result: CalibrationResult;
  versions: VersionIds;
}

/** The journal entry that holds the hash of what was issued. */
export interface IssueEntry {
  number: number;
  hash: string;
  frozenHash: string;
}
