import type { Migration } from 'kysely';
import * as logbook from './0001-logbook.ts';
import * as peopleAndCertificates from './0002-people-and-certificates.ts';
import * as laboratoryCountry from './0003-laboratory-country.ts';
import * as classExperiments from './0004-class-experiments.ts';
import * as term from './0005-term.ts';
import * as preparations from './0006-preparations.ts';

/** In order; a released migration is frozen. The names are what the database remembers. */
export const migrations: Record<string, Migration> = {
  '0001-logbook': logbook,
  '0002-people-and-certificates': peopleAndCertificates,
  '0003-laboratory-country': laboratoryCountry,
  '0004-class-experiments': classExperiments,
  '0005-term': term,
  '0006-preparations': preparations,
};
