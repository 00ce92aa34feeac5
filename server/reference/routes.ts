import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { VERSION } from '../version.ts';
import { PROBLEM_LIST, REFERENCE_BOOK, toleranceTableOf } from './book.ts';
import { health, openApiDocument, problemList, referenceBook, toleranceQuery, toleranceTable } from './contract.ts';

/** What everybody may read, signed in or not: how Tarebook computes, by which limits, and why it refuses. */
export const referenceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/health',
    { config: { access: 'open', classListener: true }, schema: { response: { 200: health } } },
    async () => ({
      status: 'ok' as const,
      version: VERSION,
    }),
  );

  app.get(
    '/openapi.json',
    { config: { access: 'open' }, schema: { response: { 200: openApiDocument } } },
    async () => ({
      // The plugin's types allow older kinds of document; it was told to make this one.
      openapi: '3.1.0',
      ...(app.swagger() as object),
    }),
  );

  app.get(
    '/reference',
    { config: { access: 'open' }, schema: { response: { 200: referenceBook } } },
    async () => REFERENCE_BOOK,
  );

  app.get(
    '/reference/tolerances',
    { config: { access: 'open' }, schema: { querystring: toleranceQuery, response: { 200: toleranceTable } } },
    async (request) => toleranceTableOf(request.query.kind),
  );

  app.get('/problems', { config: { access: 'open' }, schema: { response: { 200: problemList } } }, async () => ({
    items: PROBLEM_LIST,
  }));
};
