/** From measured to issued, and back: what each signature does to the record. The passphrase was asked for before. */
import { freeze, isOwnWork, recordToFreeze } from '../certificates/freeze.ts';
import { certificatesOf, insertCertificate, insertWithdrawal, nextNumber } from '../certificates/store.ts';
import { localDay } from '../clock.ts';
import type { Writing } from '../db/write.ts';
import { canonicalJson } from '../journal/canonical.ts';
import { hashOf } from '../journal/hash-of.ts';
import { withoutGaps } from '../journal/values.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { notFound, Problem } from '../problem.ts';
import { moveCalibration } from './moving.ts';
import { requireState } from './states.ts';
import { findForResult, type PooledCalibration } from './store-pool.ts';

const find = async ({ trx }: Writing, id: string): Promise<PooledCalibration> => {
  const stored = await findForResult(trx, id);
  if (!stored) throw notFound('calibration');
  return stored;
};

/** A second look, recorded. Checking one's own work is allowed unless the laboratory demands a second person. */
export const checkCalibration = async (writing: Writing, id: string, note: string | undefined) => {
  const stored = await find(writing, id);
  requireState(stored.state, ['measured'], 'only a measured one can be checked');
  const ownWork = isOwnWork(stored, writing.actor);
  const { secondPersonChecks } = await readLaboratory(writing.trx);
  if (secondPersonChecks && ownWork) throw new Problem('second-person');
  const recordHash = hashOf(recordToFreeze(stored));
  return moveCalibration(writing, stored, {
    act: 'calibration-checked',
    state: 'checked',
    vesselVersion: stored.vessel.version,
    reason: null,
    facts: { meaning: 'checked', ownWork, recordHash, ...(note ? { note } : {}) },
  });
};

/** The certificate that stands for a calibration, and is replaced when it is issued again. */
const predecessor = async (writing: Writing, stored: PooledCalibration) => {
  const [latest] = await certificatesOf(writing.trx, stored.id);
  if (!latest) return null;
  if (latest.state === 'withdrawn')
    throw new Problem('state-conflict', {
      detail: `Certificate ${latest.number} was withdrawn and has no successor. Begin another calibration.`,
    });
  const amended = stored.acts.findLast((act) => act.act === 'calibration-amended');
  return { number: latest.number, reason: amended?.reason ?? '' };
};

/** Final: the result is frozen with its inputs, and its hash stands in the journal entry of the issue. */
export const issueCalibration = async (writing: Writing, id: string, dueOn: string | null) => {
  const { trx, at, actor, journal } = writing;
  const stored = await find(writing, id);
  requireState(stored.state, ['checked'], 'only a checked one can be issued');
  const replaces = await predecessor(writing, stored);
  const number = await nextNumber(trx, localDay(new Date(at)).slice(0, 4));
  const issued = await freeze(trx, stored, { number, replaces, at, actor, dueOn });
  const frozenHash = hashOf(issued);
  const entry = journal({
    act: 'certificate-issued',
    object: `certificate/${number}`,
    before: null,
    after: withoutGaps({ calibrationId: id, frozenHash, meaning: 'issued', replaces: replaces ?? undefined }),
  });
  await insertCertificate(trx, {
    number,
    calibration_id: id,
    replaces: replaces?.number ?? null,
    reason: replaces?.reason ?? null,
    frozen: canonicalJson(issued),
    frozen_hash: frozenHash,
    entry_number: entry.number,
    entry_hash: entry.hash,
    recorded_at: at,
    recorded_by: actor,
  });
  const moved = await moveCalibration(writing, stored, {
    act: 'calibration-issued',
    state: 'issued',
    vesselVersion: stored.vessel.version,
    reason: null,
    facts: { meaning: 'issued', certificate: number, frozenHash },
  });
  return { status: 201, body: { ...moved.body, number, entry: { ...entry, frozenHash } } };
};

/** Back to open, the certificate standing until the next one is issued. */
export const amendCalibration = async (writing: Writing, id: string, reason: string) => {
  const stored = await find(writing, id);
  requireState(stored.state, ['issued'], 'only an issued one can be amended');
  await predecessor(writing, stored);
  return moveCalibration(writing, stored, { act: 'calibration-amended', state: 'open', vesselVersion: null, reason });
};

/** @throws Problem `state-conflict` for a certificate that no longer stands */
export const withdrawCertificate = async (writing: Writing, id: string, number: string, reason: string) => {
  const { trx, at, actor, journal } = writing;
  const certificate = (await certificatesOf(trx, id)).find((one) => one.number === number);
  if (!certificate) throw notFound('certificate');
  if (certificate.state !== 'valid')
    throw new Problem('state-conflict', { detail: `Certificate ${number} is ${certificate.state} already.` });
  await insertWithdrawal(trx, { number, reason, at, actor });
  journal({
    act: 'certificate-withdrawn',
    object: `certificate/${number}`,
    before: { state: 'valid' },
    after: { state: 'withdrawn', reason },
  });
  return { status: 201, body: { number, state: 'withdrawn' as const } };
};

/** A calibration with a certificate that stands cannot be dropped: it is issued again, or the certificate withdrawn. */
export const requireNoCertificate = async (writing: Writing, id: string): Promise<void> => {
  const standing = (await certificatesOf(writing.trx, id)).find((one) => one.state === 'valid');
  if (standing)
    throw new Problem('state-conflict', {
      detail: `Certificate ${standing.number} stands for this calibration. Issue it again, or withdraw that certificate first.`,
    });
};
