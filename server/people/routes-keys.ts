import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { notFound, Problem } from '../problem.ts';
import { creating, editing, newId, send } from '../requests.ts';
import { KEEPER, OVERSIGHT } from './access.ts';
import { hashOf, newToken } from './codes.ts';
import { keyBody, keyList, keyRevocation, keyToken, params, programKey, type ProgramKeyOnWire } from './contract.ts';
import type { Desk } from './desk.ts';
import { fold } from './fold.ts';
import { nameTaken } from './routes-session.ts';
import { logged } from './security-log.ts';
import { insertKey, keepToken, listKeys, revokeKey } from './store.ts';

/** Begins every token, so that one left lying about is known for what it is. */
const TOKEN_MARK = 'tarebook_';

const onWire = ({
  id,
  version,
  name,
  scope,
  expiresOn,
  revoked,
  hasToken,
  recordedAt,
  recordedBy,
}: ProgramKeyOnWire) => ({
  ...{ id, version, name, scope, expiresOn, revoked, hasToken, recordedAt, recordedBy },
});
const inJournal = ({ name, scope, expiresOn, revoked }: ProgramKeyOnWire) => ({ name, scope, expiresOn, revoked });

const good = (keys: readonly ProgramKeyOnWire[], id: string): ProgramKeyOnWire => {
  const found = keys.find((key) => key.id === id);
  if (!found) throw notFound('key');
  if (found.revoked) throw new Problem('state-conflict', { detail: `The key ${found.name} is revoked for good.` });
  return onWire(found);
};

/** Keys with which programs read, compute or record; they never sign. */
export const keyRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook } = desk.options;
  const config = { access: KEEPER, personOnly: true } as const;

  app.get('/keys', { config: { access: OVERSIGHT }, schema: { response: { 200: keyList } } }, async () => ({
    items: (await logbook.read(listKeys)).map(onWire),
  }));

  app.post('/keys', { config, schema: { body: keyBody, response: { 201: programKey } } }, async (request, reply) => {
    const { name, scope, expiresOn = null } = request.body;
    const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
      if ((await listKeys(trx)).some((key) => fold(key.name) === fold(name))) throw nameTaken(name);
      const facts = { id: newId(), version: 1, name, scope, expiresOn, revoked: false, hasToken: false };
      const key: ProgramKeyOnWire = { ...facts, recordedAt: at, recordedBy: actor };
      await insertKey(trx, key);
      journal({ act: 'key-added', object: `key/${key.id}`, before: null, after: inJournal(key) });
      return { status: 201, body: key };
    });
    await desk.reload();
    logged(request, 'keys-changed', { actor: request.actor, act: 'key-added', key: name });
    return send(reply, answer);
  });

  app.post('/keys/:id/token', { config, schema: { params, response: { 200: keyToken } } }, async (request) => {
    const token = TOKEN_MARK + newToken();
    const { body } = await logbook.write(editing(request), async ({ trx, journal }) => {
      const key = good(await listKeys(trx), request.params.id);
      await keepToken(trx, key.id, hashOf(token));
      journal({ act: 'token-made', object: `key/${key.id}`, before: null, after: null });
      return { status: 200, body: key };
    });
    await desk.reload();
    logged(request, 'keys-changed', { actor: request.actor, act: 'token-made', key: body.name });
    return { token };
  });

  app.post(
    '/keys/:id/revocation',
    { config, schema: { params, body: keyRevocation, response: { 200: programKey } } },
    async (request, reply) => {
      const answer = await logbook.write(editing(request), async ({ trx, journal }) => {
        const key = good(await listKeys(trx), request.params.id);
        const after = { ...key, version: key.version + 1, revoked: true, hasToken: false };
        await revokeKey(trx, key.id, after.version);
        const { reason } = request.body;
        journal({
          act: 'key-revoked',
          object: `key/${key.id}`,
          before: inJournal(key),
          after: { ...inJournal(after), reason },
        });
        return { status: 200, body: after };
      });
      await desk.reload();
      logged(request, 'keys-changed', { actor: request.actor, act: 'key-revoked', key: answer.body.name });
      return send(reply, answer);
    },
  );
};
