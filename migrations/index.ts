import type { Migration } from 'kysely';
import * as logbook from './0001-logbook.ts';

/** In order; a released migration is frozen. The names are what the database remembers. */
export const migrations: Record<string, Migration> = {
  '0001-logbook': logbook,
};
