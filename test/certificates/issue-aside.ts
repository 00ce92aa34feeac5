/** An issued certificate where nobody can sign in: signed beside the routes, as the demonstration's are. */
import { checkCalibration, issueCalibration } from '../../server/calibrations/signing.ts';
import { renderCertificate } from '../../server/certificates/view-rendering.ts';
import type { TestServer } from '../server/support.ts';

/** @returns the number of the certificate */
export const issueAside = async (server: TestServer, id: string): Promise<string> => {
  const { logbook } = server;
  await server.post(`/api/calibrations/${id}/measured`, { reason: 'for the test' });
  const request = { actor: 'Ada Keeper', requestId: 'aside' };
  await logbook.write(request, (writing) => checkCalibration(writing, id, undefined));
  const { body } = await logbook.write(request, (writing) => issueCalibration(writing, id, null));
  await renderCertificate(logbook, body.number, request);
  return body.number;
};
