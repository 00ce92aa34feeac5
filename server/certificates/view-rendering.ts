/**
 * Makes the paper of an issued certificate. It comes after the COMMIT of the issue, since it prints that entry's number
 * and hash; the hashes of the files go into an entry of their own. The same certificate always gives the same bytes.
 */
import { createHash } from 'node:crypto';
import type { Logbook } from '../db/logbook.ts';
import { certificateXml } from './dcc/certificate.ts';
import { makePdf } from './pdf/making.ts';
import { filesOf, insertFile, withoutFiles, type FileFacts } from './store-files.ts';
import { findCertificate } from './store.ts';

const sha256 = (content: Buffer): string => createHash('sha256').update(content).digest('hex');

/** Nothing is done where the files are there already. @throws Error for a number that was never issued */
export const renderCertificate = async (
  logbook: Logbook,
  number: string,
  request: { actor: string; requestId: string },
): Promise<FileFacts[]> => {
  const { stored, files } = await logbook.read(async (db) => ({
    stored: await findCertificate(db, number),
    files: await filesOf(db, number),
  }));
  if (!stored) throw new Error(`There is no certificate ${number}.`);
  if (files.length > 0) return files;
  const xml = certificateXml(stored.issued, stored.entry);
  const pdf = await makePdf({ kind: 'certificate', issued: stored.issued, entry: stored.entry, xml });
  const made = [
    { format: 'pdf', content: pdf, sha256: sha256(pdf) },
    { format: 'xml', content: xml, sha256: sha256(xml) },
  ] as const;
  const answer = await logbook.write(request, async ({ trx, at, actor, journal }) => {
    const present = await filesOf(trx, number);
    // Two requests can render at the same time; the first one's files stand.
    if (present.length === 0) for (const file of made) await insertFile(trx, { number, ...file, at, actor });
    journal({
      act: present.length === 0 ? 'certificate-rendered' : 'certificate-rendered-again',
      object: `certificate/${number}`,
      before: null,
      after: { pdf: made[0].sha256, xml: made[1].sha256 },
    });
    return { status: 201, body: await filesOf(trx, number) };
  });
  return answer.body;
};

/** Renders what an interrupted server left without paper. @returns how many */
export const renderMissing = async (logbook: Logbook): Promise<number> => {
  const numbers = await logbook.read(withoutFiles);
  for (const number of numbers) await renderCertificate(logbook, number, { actor: 'system', requestId: 'start' });
  return numbers.length;
};
