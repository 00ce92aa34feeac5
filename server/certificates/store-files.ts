import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';

export type FileFormat = 'pdf' | 'xml';

export interface FileFacts {
  format: FileFormat;
  sha256: string;
  bytes: number;
}

export const filesOf = async (db: Reading, number: string): Promise<FileFacts[]> => {
  const rows = await db
    .selectFrom('certificate_file')
    .select(['format', 'sha256', sql<number>`length(content)`.as('bytes')])
    .where('certificate_number', '=', number)
    .orderBy('format')
    .execute();
  return rows.map((row) => ({ ...row, format: row.format as FileFormat }));
};

export const fileContent = async (db: Reading, number: string, format: FileFormat): Promise<Buffer | null> => {
  const row = await db
    .selectFrom('certificate_file')
    .select('content')
    .where('certificate_number', '=', number)
    .where('format', '=', format)
    .executeTakeFirst();
  return row?.content ?? null;
};

export const insertFile = async (
  trx: Transaction<Tables>,
  facts: { number: string; format: FileFormat; sha256: string; content: Buffer; at: string; actor: string },
): Promise<void> => {
  await trx
    .insertInto('certificate_file')
    .values({
      certificate_number: facts.number,
      format: facts.format,
      sha256: facts.sha256,
      content: facts.content,
      recorded_at: facts.at,
      recorded_by: facts.actor,
    })
    .execute();
};

/** Certificates whose paper is not there yet: the machine may have stopped between the issue and the rendering. */
export const withoutFiles = async (db: Reading): Promise<string[]> => {
  const rows = await db
    .selectFrom('certificate')
    .select('number')
    .where((where) =>
      where.not(
        where.exists(
          where
            .selectFrom('certificate_file')
            .select('format')
            .whereRef('certificate_file.certificate_number', '=', 'certificate.number'),
        ),
      ),
    )
    .orderBy('number')
    .execute();
  return rows.map((row) => row.number);
};
