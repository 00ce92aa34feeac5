/** Signing asks for the passphrase again: an open session alone never signs. */
import type { FastifyRequest } from 'fastify';
import { Problem } from '../problem.ts';
import { fold } from './fold.ts';
import { isPassphrase } from './passphrases.ts';
import { logged } from './security-log.ts';
import { readSecrets } from './store.ts';

/**
 * Call it before the write: comparing takes a moment.
 * @throws Problem `not-signed-in` without a person, `passphrase-needed` when none was sent, `wrong-passphrase` at
 *   `#/password`, `too-many-requests` after several wrong ones
 */
export const confirmSigner = async (
  request: FastifyRequest,
  password: string | undefined,
): Promise<{ id: string; name: string }> => {
  const { desk } = request.server;
  const { person } = request;
  if (!desk || !person)
    throw new Problem('not-signed-in', {
      detail: 'Only a person who is signed in signs. Programs and commands do not.',
    });
  if (password === undefined || password === '') throw new Problem('passphrase-needed');
  const { logbook } = desk.options;
  const right = await desk.guesses.attempt(fold(person.name), desk.placeOf(request, person.id), async () => {
    const secrets = await logbook.read((db) => readSecrets(db, person.id));
    return (await isPassphrase(password, secrets?.passphrase_hash ?? null)) ? true : null;
  });
  if (right === null) {
    logged(request, 'signature-refused', { actor: person.name });
    throw wrongPassphrase();
  }
  return { id: person.id, name: person.name };
};

const wrongPassphrase = (): Problem =>
  new Problem('wrong-passphrase', {
    errors: [{ pointer: '#/password', detail: 'This is not your passphrase. Type it again.' }],
  });
