import { type Kysely, sql } from 'kysely';

/** In which country the laboratory stands, as ISO 3166-1 alpha-2; certificates as data have to name it. */
export const up = async (db: Kysely<unknown>): Promise<void> => {
  await sql
    .raw(
      `alter table laboratory add column country_code text
       check (country_code is null or country_code glob '[A-Z][A-Z]')`,
    )
    .execute(db);
};
