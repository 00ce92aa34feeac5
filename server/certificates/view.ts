/** Stored certificates as the wire shows them. */
import type { PooledCalibration } from '../calibrations/store-pool.ts';
import { resultOnWire } from '../calibrations/view.ts';
import { hashOf } from '../journal/hash-of.ts';
import type { Finding } from '../metrology/result.ts';
import { printsVerdict } from '../tolerances/view-basis.ts';
import type { Certificate, CertificateListItem } from './contract.ts';
import { differencesOf } from './differences.ts';
import { recordToFreeze, standingSignatures } from './freeze.ts';
import type { FileFacts } from './store-files.ts';
import type { StoredCertificate } from './store.ts';

export const certificateItem = (stored: StoredCertificate): CertificateListItem => {
  const { issued } = stored;
  return {
    number: stored.number,
    state: stored.state,
    issuedAt: stored.issuedAt,
    issuedBy: stored.issuedBy,
    calibrationId: stored.calibrationId,
    vesselId: issued.vessel.id,
    tag: issued.vessel.tag,
    kind: issued.record.vessel.kind,
    nominalVolumeMl: issued.record.vessel.nominalVolumeMl,
    performedOn: issued.record.performedOn ?? issued.issuedOn,
    origin: issued.record.origin ?? null,
    verdict: printsVerdict(issued.toleranceBasis) ? issued.result.verdict : null,
    replaces: stored.replaces,
    replacedBy: stored.replacedBy,
  };
};

/** @param present the calibration as its rows stand where it is issued; null while it is open for an amendment */
export const certificateOnWire = (
  stored: StoredCertificate,
  files: FileFacts[],
  present: PooledCalibration | null,
): Certificate => {
  const { issued } = stored;
  return {
    ...certificateItem(stored),
    reason: stored.reason,
    replacedBecause: stored.replacedBecause,
    withdrawal: stored.withdrawal,
    program: issued.program,
    demonstration: issued.demonstration,
    entry: stored.entry,
    signatures: issued.signatures,
    toleranceName: issued.toleranceName,
    toleranceBasis: issued.toleranceBasis,
    verdictPrinted: printsVerdict(issued.toleranceBasis),
    files,
    result: resultOnWire(issued.result),
    differences: differencesOf(stored, present),
  };
};

/** A signature whose record no longer hashes to what was signed is void. */
const voidSignature = (stored: PooledCalibration): Finding[] => {
  const checked = stored.acts.findLast((act) => act.act === 'calibration-checked');
  const signed = (checked?.facts as { recordHash?: string } | null | undefined)?.recordHash;
  const stands = standingSignatures(stored).some((signature) => signature.meaning === 'checked');
  if (!stands || signed === undefined || signed === hashOf(recordToFreeze(stored))) return [];
  const detail = `The record differs from what ${checked?.by ?? ''} checked. That signature is void.`;
  return [{ code: 'signature-void', detail }];
};

/** Signatures and certificates of a calibration, and what no longer fits them. */
export const paperOf = (stored: PooledCalibration, certificates: readonly StoredCertificate[]) => {
  const [latest] = certificates;
  const differences = latest && stored.state === 'issued' ? differencesOf(latest, stored) : [];
  return {
    signatures: standingSignatures(stored),
    certificates: certificates.map(certificateItem),
    findings: [...voidSignature(stored), ...differences],
  };
};
