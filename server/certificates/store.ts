import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { CertificateTable, Tables } from '../db/tables.ts';
import type { Issued, IssueEntry } from './issued.ts';

export type CertificateState = 'valid' | 'replaced' | 'withdrawn';

export interface StoredCertificate {
  number: string;
  calibrationId: string;
  replaces: string | null;
  reason: string | null;
  replacedBy: string | null;
  replacedBecause: string | null;
  withdrawal: { reason: string; at: string; by: string } | null;
  state: CertificateState;
  issued: Issued;
  entry: IssueEntry;
  issuedAt: string;
  issuedBy: string;
}

export interface CertificateSearch {
  search?: string | undefined;
  state?: CertificateState | undefined;
  calibrationIds?: readonly string[];
  number?: string;
  /** Numbers before this one: the list runs from the newest to the oldest. */
  before?: string | undefined;
  limit: number;
}

const certificates = (db: Reading) =>
  db
    .selectFrom('certificate')
    .leftJoin('certificate as successor', 'successor.replaces', 'certificate.number')
    .leftJoin('certificate_withdrawal', 'certificate_withdrawal.certificate_number', 'certificate.number')
    .selectAll('certificate')
    .select([
      'successor.number as replaced_by',
      'successor.reason as replaced_because',
      'certificate_withdrawal.reason as withdrawn_because',
      'certificate_withdrawal.recorded_at as withdrawn_at',
      'certificate_withdrawal.recorded_by as withdrawn_by',
    ]);

type Row = Awaited<ReturnType<ReturnType<typeof certificates>['execute']>>[number];

const stateOf = (row: Row): CertificateState =>
  row.withdrawn_at !== null ? 'withdrawn' : row.replaced_by !== null ? 'replaced' : 'valid';

const certificateOf = (row: Row): StoredCertificate => ({
  number: row.number,
  calibrationId: row.calibration_id,
  replaces: row.replaces,
  reason: row.reason,
  replacedBy: row.replaced_by,
  replacedBecause: row.replaced_because,
  withdrawal:
    row.withdrawn_at === null
      ? null
      : { reason: row.withdrawn_because ?? '', at: row.withdrawn_at, by: row.withdrawn_by ?? '' },
  state: stateOf(row),
  issued: JSON.parse(row.frozen) as Issued,
  entry: { number: row.entry_number, hash: row.entry_hash, frozenHash: row.frozen_hash },
  issuedAt: row.recorded_at,
  issuedBy: row.recorded_by,
});

const escapeLike = (text: string): string => text.replaceAll(/[\\%_]/g, (sign) => `\\${sign}`);

/** Newest number first. `search` finds numbers and tags. */
export const listCertificates = async (db: Reading, search: CertificateSearch): Promise<StoredCertificate[]> => {
  let query = certificates(db);
  if (search.number !== undefined) query = query.where('certificate.number', '=', search.number);
  if (search.calibrationIds) query = query.where('certificate.calibration_id', 'in', search.calibrationIds);
  if (search.before !== undefined) query = query.where('certificate.number', '<', search.before);
  if (search.state === 'withdrawn') query = query.where('certificate_withdrawal.certificate_number', 'is not', null);
  if (search.state === 'replaced')
    query = query
      .where('successor.number', 'is not', null)
      .where('certificate_withdrawal.certificate_number', 'is', null);
  if (search.state === 'valid')
    query = query.where('successor.number', 'is', null).where('certificate_withdrawal.certificate_number', 'is', null);
  for (const word of (search.search ?? '').split(/\s+/).filter(Boolean)) {
    const like = `%${escapeLike(word)}%`;
    query = query.where(
      sql<boolean>`(certificate.number like ${like} escape '\\'
        or json_extract(certificate.frozen, '$.vessel.tag') like ${like} escape '\\')`,
    );
  }
  const rows = await query.orderBy('certificate.number', 'desc').limit(search.limit).execute();
  return rows.map(certificateOf);
};

export const findCertificate = async (db: Reading, number: string): Promise<StoredCertificate | null> =>
  (await listCertificates(db, { number, limit: 1 }))[0] ?? null;

/** Certificates of one calibration, newest first. */
export const certificatesOf = (db: Reading, calibrationId: string): Promise<StoredCertificate[]> =>
  listCertificates(db, { calibrationIds: [calibrationId], limit: 1000 });

/** The next number of a year: 2026-00001, 2026-00002 … */
export const nextNumber = async (db: Reading, year: string): Promise<string> => {
  const last = await db
    .selectFrom('certificate')
    .select('number')
    .where('number', '>', `${year}-`)
    .where('number', '<', `${year}.`)
    .orderBy('number', 'desc')
    .limit(1)
    .executeTakeFirst();
  const count = last === undefined ? 0 : Number(last.number.slice(year.length + 1));
  return `${year}-${String(count + 1).padStart(5, '0')}`;
};

export const insertCertificate = async (trx: Transaction<Tables>, row: CertificateTable): Promise<void> => {
  await trx.insertInto('certificate').values(row).execute();
};

export const insertWithdrawal = async (
  trx: Transaction<Tables>,
  facts: { number: string; reason: string; at: string; actor: string },
): Promise<void> => {
  await trx
    .insertInto('certificate_withdrawal')
    .values({
      certificate_number: facts.number,
      reason: facts.reason,
      recorded_at: facts.at,
      recorded_by: facts.actor,
    })
    .execute();
};
