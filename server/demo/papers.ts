/**
 * People of the demonstration and the certificates they issued. None of them has a passphrase, so nobody signs in as one
 * of them; their signatures come in here, beside the routes that would ask for it.
 */
import { amendCalibration, checkCalibration, issueCalibration } from '../calibrations/signing.ts';
import { renderCertificate } from '../certificates/view-rendering.ts';
import type { Logbook } from '../db/logbook.ts';
import type { Answer, Writing } from '../db/write.ts';
import type { Role } from '../people/contract.ts';
import { insertPerson } from '../people/store.ts';
import { newId } from '../requests.ts';
import { confirmTolerance, rowNamed } from '../tolerances/confirming.ts';
import type { ConfirmationBody } from '../tolerances/contract.ts';
import { DemoRefused } from './refused.ts';
import type { DemoTables, Row } from './rows.ts';
import { post, type Ledger, type Send } from './send.ts';

interface Loading {
  logbook: Logbook;
  send: Send;
  tables: DemoTables;
  actor: string;
  say: (line: string) => void;
}

/** One act with a key of its own, so that a load taken up again does nothing twice. */
const once = <T>(
  { logbook }: Loading,
  key: string,
  actor: string,
  work: (writing: Writing) => Promise<Answer<T>>,
): Promise<Answer<T>> =>
  logbook.write({ actor, requestId: 'demo', key: { value: `demo:${key}`, fingerprint: key } }, work);

const registerPerson = (loading: Loading, row: Row) => {
  const { name = '', role = '' } = row;
  return once(loading, `person:${name}`, loading.actor, async ({ trx, at, actor, journal }) => {
    const mayIssue = row['mayIssue'] === 'true';
    const person = { id: newId(), name, role: role as Role, mayIssue, passphraseHash: null };
    await insertPerson(trx, person, at, actor);
    journal({ act: 'person-added', object: `person/${person.id}`, before: null, after: { name, role, mayIssue } });
    return { status: 201, body: null };
  });
};

const confirm = (loading: Loading, row: Row) => {
  const {
    standard = '',
    edition = '',
    kind = '',
    nominalVolumeMl = '',
    divisionMl = '',
    whereSeen = '',
    by = '',
  } = row;
  const key = { standard, edition, kind: kind as ConfirmationBody['kind'], class: row['class'] ?? '', nominalVolumeMl };
  const found = rowNamed({ ...key, divisionMl: divisionMl === '' ? null : divisionMl });
  if (!found) throw new DemoRefused(`The tolerance table has no row ${Object.values(key).join(' ')}.`);
  return once(loading, `confirmation:${Object.values(key).join('|')}`, by, async (writing) => ({
    status: 201,
    body: await confirmTolerance(writing, found, whereSeen),
  }));
};

const checkAndIssue = async (loading: Loading, name: string, id: string, row: Row): Promise<void> => {
  const { checkedBy = '', issuedBy = '' } = row;
  await once(loading, `${name}:check`, checkedBy, (writing) => checkCalibration(writing, id, undefined));
  const { body } = await once(loading, `${name}:issue`, issuedBy, (writing) => issueCalibration(writing, id, null));
  await renderCertificate(loading.logbook, body.number, { actor: issuedBy, requestId: 'demo' });
};

/** Opened again with its certificate standing, a trial left out, and issued a second time. */
const amend = async (loading: Loading, name: string, id: string, row: Row): Promise<void> => {
  const { amendedBecause: reason = '', excludedTrial = '', cause, issuedBy = '' } = row;
  const url = `/api/calibrations/${id}`;
  await once(loading, `${name}:amend`, issuedBy, (writing) => amendCalibration(writing, id, reason));
  await post(loading.send, `${name}:amended:1`, `${url}/trials/${excludedTrial}/exclusion`, { cause, reason });
  await post(loading.send, `${name}:amended:2`, `${url}/measured`, { reason });
  await checkAndIssue(loading, `${name}:amended`, id, row);
};

export const loadPapers = async (loading: Loading, ids: Ledger): Promise<void> => {
  const { tables, say } = loading;
  for (const row of tables.people) await registerPerson(loading, row);
  for (const row of tables.confirmations) await confirm(loading, row);
  const loaded = new Set(tables.calibrations.map((row) => row['calibration']));
  const papers = tables.papers.filter((row) => loaded.has(row['calibration']));
  for (const row of papers) {
    const name = row['calibration'] ?? '';
    const id = ids.get(`calibration ${name}`);
    await checkAndIssue(loading, name, id, row);
    if (row['amendedBecause']) await amend(loading, name, id, row);
  }
  say(`${papers.length} calibrations are checked and issued.`);
};
