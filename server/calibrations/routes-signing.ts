import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  amendBody,
  certificateNumber,
  checkBody,
  issueBody,
  issued,
  withdrawBody,
  withdrawn,
} from '../certificates/contract.ts';
import { renderCertificate } from '../certificates/view-rendering.ts';
import type { Logbook } from '../db/logbook.ts';
import { BENCH } from '../people/access.ts';
import { confirmSigner } from '../people/signing.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { amendCalibration, checkCalibration, issueCalibration, withdrawCertificate } from './signing.ts';

const params = z.object({ id });
const moved = z.object({ id, state: z.string(), version: z.number().int() });

/** Checked by a person who gives the passphrase again. */
const checking: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/check',
    { config: { access: BENCH, personOnly: true }, schema: { params, body: checkBody, response: { 201: moved } } },
    async (request, reply) => {
      await confirmSigner(request, request.body.password);
      const answer = await logbook.write(creating(request), (writing) =>
        checkCalibration(writing, request.params.id, request.body.note),
      );
      return send(reply, answer);
    },
  );
};

/** Issued by a person who may; the paper is made once the issue is committed. */
const issuing: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/issue',
    {
      config: { access: BENCH, mayIssue: true, personOnly: true },
      schema: { params, body: issueBody, response: { 201: issued } },
    },
    async (request, reply) => {
      await confirmSigner(request, request.body.password);
      const answer = await logbook.write(creating(request), (writing) =>
        issueCalibration(writing, request.params.id, request.body.dueOn ?? null),
      );
      try {
        await renderCertificate(logbook, answer.body.number, { actor: request.actor, requestId: request.id });
      } catch (error) {
        // The issue stands; the paper is made again at the next start, or when it is asked for.
        request.log.error({ err: error }, 'a certificate could not be rendered');
      }
      return send(reply, answer);
    },
  );

  app.post(
    '/calibrations/:id/amendment',
    {
      config: { access: BENCH, mayIssue: true, personOnly: true },
      schema: { params, body: amendBody, response: { 201: moved } },
    },
    async (request, reply) => {
      await confirmSigner(request, request.body.password);
      const answer = await logbook.write(creating(request), (writing) =>
        amendCalibration(writing, request.params.id, request.body.reason),
      );
      return send(reply, answer);
    },
  );

  app.post(
    '/calibrations/:id/certificates/:number/withdrawal',
    {
      config: { access: BENCH, mayIssue: true, personOnly: true },
      schema: {
        params: z.object({ id, number: certificateNumber }),
        body: withdrawBody,
        response: { 201: withdrawn },
      },
    },
    async (request, reply) => {
      await confirmSigner(request, request.body.password);
      const { id: calibrationId, number } = request.params;
      const answer = await logbook.write(creating(request), (writing) =>
        withdrawCertificate(writing, calibrationId, number, request.body.reason),
      );
      return send(reply, answer);
    },
  );
};

export const signingRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, options) => {
  await checking(app, options);
  await issuing(app, options);
};
